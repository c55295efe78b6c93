from __future__ import annotations

import re

import pytest

from wedgework.resources import resource_path
from wedgework.window.actions import ACTIONS
from wedgework.window.dialogs.helping import PAGES


def page(name):
    return PAGES[name][1]()


@pytest.mark.parametrize("name", sorted(PAGES))
def test_every_page_of_the_help_menu_says_something(name):
    assert len(re.sub(r"<[^>]*>", "", page(name))) > 100


def test_every_key_of_an_action_is_in_the_list_of_keys():
    text = page("keys")
    assert [row.key for row in ACTIONS if row.key and f"<b>{row.key}</b>" not in text] == []


def test_a_change_is_one_paragraph_however_its_lines_are_broken():
    lines = resource_path("CHANGELOG.md").read_text(encoding="utf-8").splitlines()
    assert page("changes").count("•") == sum(line.startswith("- ") for line in lines)


def test_the_cautions_name_solvents_allergy_necks_blades_and_fire():
    text = page("cautions").lower()
    assert all(word in text for word in ("adhesive", "allergy", "neck", "blade", "fire"))


def test_the_licences_of_all_that_ships_with_it_are_told():
    text = page("about")
    assert all(word in text for word in ("MIT", "OFL", "LGPL", "shapely", "reportlab"))
