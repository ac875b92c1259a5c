"""What the built folder redistributes, with licence texts read from the packages themselves."""

from __future__ import annotations

import json
import sysconfig
import zipfile
from dataclasses import dataclass
from email import message_from_string
from pathlib import Path

from . import bundle
from .setup import MODULES, ROOT


@dataclass(frozen=True)
class Component:
    """A part made by others (or by us): its name, version, licence's name, where it comes from, and the text."""

    name: str
    version: str
    licence: str
    origin: str
    text: str


def _python_licence() -> str:
    """CPython's own licence text, as the Python that builds carries it."""
    import builtins
    import site
    site.main() if not hasattr(builtins, "license") else None
    for folder in (Path(sysconfig.get_paths()["stdlib"]), Path(sysconfig.get_paths()["stdlib"]).parent):
        for name in ("LICENSE.txt", "LICENSE"):
            if (folder / name).is_file():
                return (folder / name).read_text(encoding="utf-8", errors="replace")
    return ""


def _package_text(folder: Path) -> str:
    for name in ("LICENSE", "LICENSE.txt", "LICENSE.md", "LICENCE"):
        if (folder / name).is_file():
            return (folder / name).read_text(encoding="utf-8", errors="replace")
    return ""


def _from_wheel(wheel: Path) -> Component:
    """A wheel that is kept whole, by its own metadata and licence files."""
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
    found = [
        Component("Raftwright", "", "MIT", "this project", own),
        Component("Pyodide", about["version"], about["license"], about.get("homepage", ""), _package_text(pyodide)
                  or "Mozilla Public License 2.0, as the package declares. The package carries no copy of the text; "
                     "the source code is at the address above."),
        Component("CPython and its standard library", python, "Python Software Foundation License 2", "www.python.org",
                  _python_licence()),
    ]
    morphdom = MODULES / "morphdom"
    about = json.loads((morphdom / "package.json").read_text(encoding="utf-8"))
    found.append(Component("morphdom", about["version"], about["license"], about.get("homepage", ""),
                           _package_text(morphdom)))
    found += [_from_wheel(bundle.wheel(name)) for name in (*bundle.INSTALLER, *bundle.EXTRAS)]
    fonts = ROOT / "site_src" / "assets" / "fonts"
    for file in sorted(fonts.glob("*LICEN*")) if fonts.is_dir() else []:
        found.append(Component(file.stem, "", "as below", "fonts", file.read_text(encoding="utf-8")))
    return found
