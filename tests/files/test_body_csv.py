import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wedgework.files.body_csv import MOST_BYTES, UNITS, read_body_csv, write_body_csv
from wedgework.pattern.body import ALL_NAMES
from wedgework.pattern.errors import FileRefused
from wedgework.units import Unit

MEASURES = st.dictionaries(st.sampled_from(ALL_NAMES), st.integers(10, 30000).map(lambda n: n / 10))


def refused(text):
    data = text if isinstance(text, bytes) else text.encode()
    with pytest.raises(FileRefused) as caught:
        read_body_csv(data)
    assert len(caught.value.sentence) < 300
    return caught.value.sentence


@given(MEASURES.filter(bool), st.sampled_from(UNITS))
def test_a_list_that_was_written_is_read_back(measures, unit):
    assert read_body_csv(write_body_csv(measures, unit)) == pytest.approx(measures, abs=1e-6)


def test_a_list_has_a_header_line_and_measure_value_unit():
    data = write_body_csv({"waist_girth_mm": 720.0, "bust_girth_mm": 920.5})
    assert data == b"measure,value,unit\r\nbust_girth,920.5,mm\r\nwaist_girth,720,mm\r\n"


@pytest.mark.parametrize(
    "text",
    [
        "measure,value,unit\nbust_girth,36 1/4,in\n",
        'measure;value;unit\nBust girth;"920,75";mm\n',
        "\ufeffmeasure\tvalue\tunit\r\nbust-girth\t920.75\tmm\r\n\r\n",
        'unit,value,measure\n,"36 1/4""",bust_girth_mm\n',
        "measure,value\nbust_girth,92.075 cm\n",
        "measure,value\nbust_girth_mm,920.75\n",
        "Measure;Value (cm)\nBust;92,0750\n",
        "measure,value_in\nbust girth,36 1/4\nwaist girth,\n",
    ],
)
def test_what_spreadsheets_write_is_read(text):
    assert read_body_csv(text.encode()) == {"bust_girth_mm": pytest.approx(920.75)}


def test_a_list_in_utf_16_is_read():
    text = "measure\tvalue\tunit\nwaist girth\t72,5\tcm\n"
    assert read_body_csv(text.encode("utf-16")) == {"waist_girth_mm": 725.0}


def test_left_and_right_are_measures_of_their_own():
    text = "measure,value,unit\nthigh girth left,571,mm\nthigh girth right,566,mm\n"
    assert read_body_csv(text.encode()) == {
        "thigh_girth_left_mm": 571.0, "thigh_girth_right_mm": 566.0
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "empty"),
        ("measure,value,unit\n", "no measures"),
        ("bust,waist\n1,2\n", "first line"),
        ("measure,value,unit\nbust_girt,900,mm\n", "“bust girth”"),
        ("measure,value,unit\nbust_girth_left,900,mm\n", "left and right"),
        ("measure,value,unit\nbust_girth,900,\n", "unit"),
        ("measure,value,unit\nbust_girth,900,px\n", "px"),
        ("measure,value,unit\nbust_girth,nan,mm\n", "Line 2"),
        ("measure,value,unit\nbust_girth,-3,mm\n", "not above 0"),
        ("measure,value,unit\nbust_girth,1e9,mm\n", "Line 2"),
        ("measure,value,unit\nbust_girth,=1+1,mm\n", "Line 2"),
        ("measure,value,unit\nbust_girth,900,mm\n\nbust girth,90,cm\n", "Line 4"),
        ("measure,value,unit\nbust_girth,92,5,cm\n", "quotes"),
        ('measure,value,unit\n"bust_girth,920,mm\n', "broken"),
        (b"measure,value,unit\nbust_girth,\xff\xfe,mm\n", "UTF-8"),
        (b"PK\x03\x04\0\0", "no text"),
        ("measure,value,unit\n" + "bust_girth,1,mm\n" * 3000, "too long"),
        (b"," * (MOST_BYTES + 1), "too long"),
    ],
)
def test_what_is_no_list_of_measures_is_refused_in_words(text, word):
    assert word in refused(text)


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(data):
    with contextlib.suppress(FileRefused):
        assert read_body_csv(data)


@given(st.lists(st.text(max_size=12), max_size=9))
def test_any_cells_are_read_or_refused(cells):
    text = "measure,value,unit\n" + ",".join(cells)
    with contextlib.suppress(FileRefused):
        assert read_body_csv(text.encode(errors="replace"))


def test_a_value_in_inches_is_exact():
    assert read_body_csv(b"measure,value,unit\nbust girth,1/2,in\n") == {"bust_girth_mm": 12.7}
    assert Unit.IN in UNITS
