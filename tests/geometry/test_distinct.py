import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from wedgework.geometry.distinct import distinct


@given(st.lists(st.sampled_from([-1.5, 0.0, 0.25, 2.0, 7.0])))
def test_every_value_stands_once_and_rises(values):
    assert distinct(np.array(values, dtype=np.float64)).tolist() == sorted(set(values))
