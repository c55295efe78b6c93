import pytest

from tests.edits.checking import through_json
from wedgework.edits import EDITS, Edit, Row, decode_edits, edit_docs
from wedgework.edits.names import Rename
from wedgework.pattern.errors import EditRefused


def test_every_edit_and_argument_says_what_it_means():
    for row in edit_docs():
        assert row["meaning"].endswith("."), row["edit"]
        assert all(argument["meaning"] for argument in row["arguments"]), row["edit"]


def test_lengths_and_angles_say_their_unit():
    units = {a["name"]: a["unit"] for row in edit_docs() for a in row["arguments"]}
    assert (units["at_mm"], units["by_mm"], units["turn_deg"]) == ("mm", "mm", "deg")


def test_defaults_are_told():
    (row,) = (row for row in edit_docs() if row["edit"] == "join")
    defaults = {a["name"]: a.get("default") for a in row["arguments"] if not a["needed"]}
    assert defaults == {"wanted_mm": 0.0, "allowed_mm": 0.5, "laid_on": False}


def test_undo_texts_name_fields_that_exist():
    for row in EDITS:
        row.says.format_map(dict.fromkeys(row.edit.__struct_fields__, ""))


def test_two_edits_of_one_name_fail():
    from wedgework.edits import _by_name  # noqa: PLC0415

    with pytest.raises(ValueError, match="one name"):
        _by_name((Row(edit=Rename, step="Mark", says=""), Row(edit=Rename, step="Mark", says="")))


def test_an_edit_without_a_change_cannot_be_made():
    class Idle(Edit, frozen=True, kw_only=True):
        pass

    with pytest.raises(TypeError):
        Idle()


def test_names_of_the_contract_go_to_json_and_back():
    through_json(Rename(id="a", name="b"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[{"edit":"renam","id":"a"}]', "Did you mean “rename”?"),
        ('[{"edit":"rename","id":"a","nam":"x"}]', "no “nam”"),
        ('[{"edit":"rename","id":"a","name":3}]', "should be a text, not a whole number"),
        ('[{"edit":"rename","id":"a"}]', "“name” is missing"),
        ('[{"edit":"rename","id":"a","id":"b","name":""}]', "“id” is said twice"),
        ('[{"edit":"move_corner","corner":"a","by_mm":[NaN,0]}]', "NaN"),
        ('[{"edit":"move_corner","corner":"a","by_mm":[1e999,0]}]', "by_mm[0]"),
        ('[{"edit":"move_corner","corner":"a","by_mm":[1e300,0]}]', "at most 1000000"),
        ('[{"edit":"move_corner","corner":"a","by_mm":[1]}]', "by_mm"),
        ('[{"edit":"move_corner","corner":"a","by_mm":[true,0]}]', "not true or false"),
        ('[{"edit":"split_edge","edge":"a","at_mm":0}]', "above 0"),
        (
            '[{"edit":"set_body","measures":{"hip_girth_mm":9,"bust_girth_mm":-1}}]',
            "measures.bust_girth_mm: should be above 0",
        ),
        ('{"edit":"rename"}', "as a list"),
        ("[3]", "which edit it is"),
        ('[{"id":"a"}]', "which edit it is"),
        ("[{", "JSON"),
        ("[" * 100_000, "nested too deeply"),
        ("[" * 80 + "]" * 80, "nested too deeply"),
    ],
)
def test_what_is_no_edit_is_refused_by_name(text, said):
    with pytest.raises(EditRefused) as caught:
        decode_edits(text.encode())
    assert said in caught.value.sentence


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_what_is_not_finite_is_refused_with_its_place(word):
    text = '[{"edit":"move_corner","corner":"a","by_mm":[0,%s]}]' % word  # noqa: UP031
    with pytest.raises(EditRefused, match=r"Edit 1 \(move_corner\): by_mm\[1\] is not a finite"):
        decode_edits(text.encode())


def test_a_number_of_hundreds_of_digits_is_refused():
    text = '[{"edit":"split_edge","edge":"a","at_mm":1' + "0" * 400 + "}]"
    with pytest.raises(EditRefused, match="at_mm is not a finite number"):
        decode_edits(text.encode())


def test_text_that_is_not_utf8_is_refused():
    with pytest.raises(EditRefused, match="UTF-8"):
        decode_edits(b'[{"edit":"rename","id":"\xff","name":""}]')
