"""What holds for every test: Qt draws without a screen, and hypothesis does not race the clock."""

from __future__ import annotations

import os

from hypothesis import settings

# A test that wants a real screen starts one of its own and says so to the process that it starts.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# Shared machines are noisy: time is measured in tests/speed, never as a deadline of a property.
# A red run means that something changed, so the ordinary run draws the same examples each time; the
# slow suite, and WEDGEWORK_DRAW=anew, look for what nobody has seen yet.
settings.register_profile("house", deadline=None, print_blob=True, derandomize=True)
settings.register_profile("anew", deadline=None, print_blob=True)
settings.load_profile(os.environ.get("WEDGEWORK_DRAW", "house"))
