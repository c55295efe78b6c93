"""The door to Wedgework for someone who knows no Python.

    python3 desktop/start.py                 open the program on a demo project
    python3 desktop/start.py FILE            open the program on a file (.wedge, .svg, .dxf)
    python3 desktop/start.py check FILE      any other words go to the program's command line
    python3 desktop/start.py test [ARGS]     lint, types and tests (with ARGS: pytest alone)
    python3 desktop/start.py speed [ARGS]    the benchmarks
    python3 desktop/start.py slow [ARGS]     the long fuzzing
    python3 desktop/start.py needs           the Debian packages that the window and tests need

The first start makes an environment of its own in `.venv` and installs the program into it; later
starts only look whether that is still up to date. Needs Python 3.11 or newer and nothing else.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an older Python must be told, in words it can read
    sys.stderr.write(
        "Wedgework needs Python 3.11 or newer, and this is {}.{}.\n".format(*sys.version_info)
    )
    sys.exit(2)

import ctypes
import hashlib
import importlib.util
import json
import os
import subprocess
from pathlib import Path

TOP = Path(__file__).resolve().parents[1]
ENVIRONMENT = TOP / ".venv"
PYTHON = ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = ENVIRONMENT / "wedgework-installed.json"

VENV_LINE = "sudo apt install python3-venv"

FIRST_DEMO = "kingfisher_flat.wedge"  # the suit that the README's first quarter of an hour walks on

LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
"""Libraries that Qt takes from a Linux system, and the Debian package of each."""

TEST_PACKAGES = ("xvfb", "xauth", "xdotool", "poppler-utils")
"""Debian packages that the tests need besides: a screen of their own, a hand, an eye for PDF."""


class CannotStart(Exception):
    """What hinders the start, in one sentence or two that the person at the keyboard can act on."""


def say(sentence: str) -> None:
    """Write to stderr: stdout belongs to the program's own answers."""
    sys.stderr.write(f"{sentence}\n")
    sys.stderr.flush()


# --- the environment ------------------------------------------------------------------------


def wanted_key() -> str:
    """Changes whenever the environment has to be looked at again, and only then."""
    seen = hashlib.sha256()
    for path in (TOP / "pyproject.toml", ENVIRONMENT / "pyvenv.cfg"):
        seen.update(path.read_bytes() if path.exists() else b"-")
    # The folder may have been moved, and the system's Python replaced, since the installation.
    seen.update(f"{TOP}|{os.path.realpath(PYTHON)}".encode())
    return seen.hexdigest()


def installed() -> dict[str, object]:
    """What the last finished installation wrote down; empty where there is none."""
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def extras_of(stamp: dict[str, object]) -> set[str]:
    """The optional parts that were installed."""
    extras = stamp.get("extras", [])
    return set(map(str, extras)) if isinstance(extras, list) else set()


def prepare(*extras: str) -> None:
    """Make the environment and install the program with `extras`, unless that is done already."""
    stamp = installed()
    have = extras_of(stamp)
    if PYTHON.exists() and stamp.get("key") == wanted_key() and have.issuperset(extras):
        return
    if not environment_lives():
        make_environment()
        have = set()
    install(sorted(have.union(extras)))


def environment_lives() -> bool:
    """Whether `.venv` holds a Python that starts, is new enough, and has pip."""
    if not PYTHON.exists():
        return False
    look = "import pip, sys; sys.exit(sys.version_info < (3, 11))"
    return subprocess.run([PYTHON, "-c", look], capture_output=True, check=False).returncode == 0


def make_environment() -> None:
    """Make `.venv` afresh; raises CannotStart with the line that installs what is missing."""
    say(f"Wedgework: 1 of 2, making an environment of its own in {ENVIRONMENT} ...")
    missing = (
        "This Python cannot make an environment: its venv part is not installed. On Debian and "
        f"its relatives this line installs it:\n  {VENV_LINE}"
    )
    if not all(map(importlib.util.find_spec, ("venv", "ensurepip"))):
        raise CannotStart(missing)
    import venv  # noqa: PLC0415 - Debian ships it in a package of its own

    builder = venv.EnvBuilder(clear=True, with_pip=True, symlinks=os.name != "nt")
    try:
        builder.create(ENVIRONMENT)
    except subprocess.CalledProcessError as problem:
        raise CannotStart(missing) from problem
    except OSError as problem:
        raise CannotStart(f"The environment could not be made: {problem}") from problem


def install(extras: list[str]) -> None:
    """Install the program, editable, with its dependencies; pip shows how far it is."""
    say("Wedgework: 2 of 2, installing the program and what it needs (once; some minutes) ...")
    what = f"{TOP}[{','.join(extras)}]" if extras else str(TOP)
    pip = [str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--editable", what]
    # pip's lines go to stderr, so that `start.py info FILE --json` stays one JSON value.
    if subprocess.run(pip, stdout=sys.stderr.fileno(), check=False).returncode != 0:
        raise CannotStart(
            "The installation did not finish; pip's lines above say why. "
            "It needs the network once. Start again to go on."
        )
    stamp = {"key": wanted_key(), "extras": extras}
    STAMP.write_text(json.dumps(stamp), encoding="utf-8")
    say("Wedgework: ready.")


# --- what the system must have --------------------------------------------------------------


def missing_libraries() -> list[str]:
    """Names of Qt's system libraries that cannot be loaded here; none but on Linux."""
    if not sys.platform.startswith("linux"):
        return []
    return [name for name in LIBRARIES if not loads(name)]


def loads(library: str) -> bool:
    """Whether the system's loader finds `library`."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def look_for_libraries() -> None:
    """Raises CannotStart, with the line that installs them, where system libraries are missing."""
    missing = missing_libraries()
    if not missing:
        return
    if is_debian():
        packages = " ".join(LIBRARIES[name] for name in missing)
        raise CannotStart(
            "The window needs system libraries that are not here. This line installs them:\n"
            f"  sudo apt install {packages}"
        )
    raise CannotStart(
        f"The window needs system libraries that are not here: {', '.join(missing)}. "
        "Please install the packages that hold them with your system's package manager."
    )


def is_debian() -> bool:
    """Whether this is Debian or one of its relatives, by the system's own word."""
    try:
        words = Path("/etc/os-release").read_text(encoding="utf-8").lower()
    except OSError:
        return False
    return "debian" in words or "ubuntu" in words


def look_for_screen() -> None:
    """Raises CannotStart where a window has nowhere to appear."""
    if not sys.platform.startswith("linux"):
        return
    if not any(map(os.environ.get, ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))):
        raise CannotStart(
            "There is no screen here to open a window on (DISPLAY and WAYLAND_DISPLAY are unset). "
            "The command line needs none: python3 desktop/start.py check FILE"
        )


# --- what can be asked ----------------------------------------------------------------------


def run_program(words: list[str]) -> int:
    """Open the window (on a demo, where no words are given) or run a command."""
    if not words:
        words = first_demo()
    opens_window = not words or Path(words[0]).suffix != ""
    if opens_window:
        look_for_libraries()
        look_for_screen()
    prepare()
    return become([str(PYTHON), "-m", "wedgework", *words])


def first_demo() -> list[str]:
    """The demo that a first start opens, as a list of one path (of none, were there no demo)."""
    demo = TOP / "demo_projects" / FIRST_DEMO
    return [str(demo)] if demo.is_file() else []


def become(command: list[str]) -> int:
    """Put `command` in the place of this process, so that signals and exit code are its own."""
    if os.name != "nt":  # Windows would give the prompt back before the program has ended
        os.execv(command[0], command)
    return subprocess.run(command, check=False).returncode


def run_tests(words: list[str]) -> int:
    """Lint, format, types and tests; with words, pytest alone with these. First bad exit code."""
    look_for_libraries()
    prepare("test")
    pytest = ["pytest", "-n", "auto", *words]
    if words:
        return run_steps([pytest])
    lint = [["ruff", "check", "."], ["ruff", "format", "--check", "."], ["mypy"]]
    return run_steps([*lint, pytest])


def run_speed(words: list[str]) -> int:
    """The benchmarks, alone on the machine's time and in their own order."""
    prepare("test")
    addopts = "addopts=-q --strict-markers --import-mode=importlib"
    alone = ["-o", addopts, "-p", "no:randomly", "--benchmark-only"]
    return run_steps([["pytest", *alone, *(words or ["tests/speed"])]])


def run_slow(words: list[str]) -> int:
    """The long fuzzing that the ordinary tests leave out."""
    prepare("test")
    return run_steps(
        [["pytest", "-n", "auto", "-m", "slow", "-o", "faulthandler_timeout=0", *words]]
    )


def run_steps(steps: list[list[str]]) -> int:
    """Run tools of the environment one after the other, all of them; the first bad exit code."""
    environment = {"QT_QPA_PLATFORM": "offscreen", **os.environ}
    codes = []
    for step in steps:
        say(f"Wedgework: {' '.join(step)}")
        command = [str(PYTHON), "-m", *step]
        codes.append(subprocess.run(command, cwd=TOP, env=environment, check=False).returncode)
    return next((code for code in codes if code), 0)


def show_needs(_words: list[str]) -> int:
    """The Debian packages that the window and the tests need, on one line."""
    sys.stdout.write(" ".join(["python3-venv", *LIBRARIES.values(), *TEST_PACKAGES]) + "\n")
    return 0


def show_help(_words: list[str]) -> int:
    """What stands at the head of this file."""
    sys.stdout.write((__doc__ or "").strip() + "\n")
    return 0


TASKS = {
    "test": run_tests,
    "speed": run_speed,
    "slow": run_slow,
    "needs": show_needs,
    "--help": show_help,
    "-h": show_help,
}


def main(words: list[str]) -> int:
    """Do what the first word asks for; everything else is the program's. Returns the exit code."""
    task = TASKS.get(words[0]) if words else None
    try:
        return task(words[1:]) if task else run_program(words)
    except CannotStart as problem:
        say(str(problem))
        return 2
    except KeyboardInterrupt:
        say("Stopped.")
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
