"""Where the files that ship with the program lie: fonts, icons, words, schema, demo projects.

In a checkout and in an editable install they lie at the top of the repository; a wheel carries
copies of both folders inside the package.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

_PACKAGE: Final = Path(__file__).resolve().parent
_SHIPPED: Final = _PACKAGE / "shipped"
_HOUSE: Final = _SHIPPED if _SHIPPED.is_dir() else _PACKAGE.parents[1]


def resource_path(name: str) -> Path:
    """Path of a file or folder of `resources/`, such as `fonts` or `icons/join.svg`.

    Raises FileNotFoundError where the program does not ship it.
    """
    return _existing(_HOUSE / "resources", name)


def demo_path(name: str) -> Path:
    """Path of a demo project's file, named as `demo_names` names it.

    Raises FileNotFoundError where the program does not ship it.
    """
    return _existing(_HOUSE / "demo_projects", name)


def demo_names() -> tuple[str, ...]:
    """File names of the demo projects (`.wedge`, and drawings to import), in alphabetical order."""
    folder = _HOUSE / "demo_projects"
    return tuple(
        sorted(path.name for path in folder.iterdir() if path.suffix in {".wedge", ".svg", ".dxf"})
    )


def _existing(folder: Path, name: str) -> Path:
    path = folder / name
    if not path.exists():
        raise FileNotFoundError(f"the program ships no “{name}” in {folder}")
    return path
