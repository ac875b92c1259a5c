"""What the built folder redistributes, with license texts read from the packages themselves."""

from __future__ import annotations

import json
import zipfile
from dataclasses import dataclass
from email import message_from_string
from importlib import metadata
from pathlib import Path

from . import bundle
from .setup import MODULES, ROOT, Trouble

# npm packages whose code is part of the page's scripts.
BUNDLED = ("minisearch", "morphdom")
PYODIDE_NOTE = (
    "The source code of version {version} is at {source}. Its package carries no copy of the license, so the text "
    "below is the copy in the package {copy}. What this site's build changes in Pyodide's start file is in this "
    "project's site_src/tools/bundle.py.")
PYTHON_NOTE = (
    "It comes inside Pyodide, which carries no copy of this license, so the text below is the copy in the package "
    "{copy}. The program also holds parts with licenses of their own, zlib and SQLite among them; Python's "
    "documentation lists them under History and License (docs.python.org/{short}/license.html).")


@dataclass(frozen=True)
class Component:
    """A part made by others (or by us): name, version, license's name, where it comes from, the text, and remarks."""

    name: str
    version: str
    licence: str
    origin: str
    text: str
    note: str = ""


def _source(about: dict) -> str:
    """Where an npm package says that it comes from."""
    repository = about.get("repository") or ""
    address = repository.get("url", "") if isinstance(repository, dict) else repository
    return about.get("homepage") or address.removeprefix("git+").removesuffix(".git")


def _mozilla_text() -> tuple[str, str]:
    """The Mozilla Public License 2.0 and where it was taken from: Pyodide's package names it, but has no copy."""
    package = MODULES / "axe-core"
    about = json.loads((package / "package.json").read_text(encoding="utf-8"))
    text = _package_text(package)
    if not text.startswith("Mozilla Public License, version 2.0"):
        raise Trouble("The package axe-core no longer carries the Mozilla Public License 2.0; take the text for "
                      "Pyodide from another package in site_src/tools/licences.py.")
    return text, f"axe-core {about['version']}, which is under the same license and not part of this site"


def _python_text() -> tuple[str, str]:
    """CPython's license and where it was taken from: the library as packed for browsers has no copy."""
    found = metadata.distribution("typing_extensions")
    file = next((one for one in found.files or [] if one.name == "LICENSE"), None)
    text = Path(file.locate()).read_text(encoding="utf-8") if file else ""
    if "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2" not in text:
        raise Trouble("The package typing_extensions no longer carries CPython's licence; take the text from another "
                      "package in site_src/tools/licences.py.")
    return text, f"typing_extensions {found.version}, which is under the same license and not part of this site"


def _package_text(folder: Path) -> str:
    for name in ("LICENSE", "LICENSE.txt", "LICENSE.md", "LICENCE"):
        if (folder / name).is_file():
            return (folder / name).read_text(encoding="utf-8", errors="replace")
    return ""


def _from_wheel(wheel: Path) -> Component:
    """A wheel that is kept whole, by its own metadata and license files."""
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        about = message_from_string(archive.read(next(name for name in names if name.endswith("/METADATA"))).decode())
        texts = [archive.read(name).decode("utf-8", errors="replace") for name in sorted(names)
                 if ".dist-info/" in name and "LICEN" in name.upper() and not name.endswith("/")]
    licence = about["License-Expression"] or about["License"] or "see the text"
    home = about["Home-page"] or next((one.split(",", 1)[1].strip() for one in about.get_all("Project-URL") or []), "")
    return Component(about["Name"], about["Version"], licence, home, "\n\n".join(texts))


def components() -> list[Component]:
    """Every part of the built folder, our own first."""
    pyodide = MODULES / "pyodide"
    about = json.loads((pyodide / "package.json").read_text(encoding="utf-8"))
    python = json.loads((pyodide / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]["python"]
    own = (ROOT / "LICENSE").read_text(encoding="utf-8")
    mozilla, mozilla_from = _mozilla_text()
    psf, psf_from = _python_text()
    found = [
        Component("Raftwright", "", "MIT", "this project", own),
        Component("Pyodide", about["version"], about["license"], about["homepage"], mozilla,
                  PYODIDE_NOTE.format(version=about["version"], source=about["homepage"], copy=mozilla_from)),
        Component("CPython and its standard library", python, "Python Software Foundation License 2", "www.python.org",
                  psf, PYTHON_NOTE.format(short=".".join(python.split(".")[:2]), copy=psf_from)),
    ]
    for name in BUNDLED:
        about = json.loads((MODULES / name / "package.json").read_text(encoding="utf-8"))
        found.append(Component(name, about["version"], about["license"], _source(about), _package_text(MODULES / name)))
    found += [_from_wheel(bundle.wheel(name)) for name in (*bundle.INSTALLER, *bundle.EXTRAS)]
    fonts = ROOT / "site_src" / "assets" / "fonts"
    for file in sorted(fonts.glob("*LICEN*")) if fonts.is_dir() else []:
        found.append(Component(file.stem, "", "as below", "fonts", file.read_text(encoding="utf-8")))
    return found
