"""Turns readable sources into the files a browser fetches: the worker, the page script, the styles, calc as a wheel."""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
import os
import re
import shutil
import subprocess
import zipfile
from io import BytesIO
from pathlib import Path

from . import compiling
from .setup import MODULES, ROOT, WHEELS, Trouble

ASSETS = ROOT / "site_src" / "assets"
CALC = ROOT / "calc"
# Files of the runtime that Python asks for by name, each with the package's file it is.
RUNTIME_FILES = {"pyodide.asm.wasm": "pyodide.asm.wasm", "python_stdlib.zip": "python_stdlib.zip"}
# What installs an extra in the browser, and the extras by the name they are asked for.
INSTALLER, EXTRAS = ("packaging", "micropip"), ("segno", "xlsxwriter")
# Scripts that only some pages load.
FOR_SOME = ("checked.js", "lesson.js", "reference.js", "search.js")
# A fixed time in every archive, so that the same sources give the same bytes.
EPOCH = (2020, 1, 1, 0, 0, 0)


def digest(data: bytes) -> str:
    """A short name for exactly these bytes."""
    return hashlib.sha256(data).hexdigest()[:10]


def write_hashed(folder: Path, name: str, data: bytes) -> str:
    """Write a file under a name that holds its hash; returns that name."""
    stem, dot, suffix = name.partition(".")
    hashed = f"{stem}.{digest(data)}{dot}{suffix}"
    (folder / hashed).write_bytes(data)
    return hashed


def esbuild(arguments: list[str], text: str | None = None, paths: list[Path] = ()) -> str:
    """Run the bundler and return what it made; ``paths`` are folders where imported packages are found."""
    program = MODULES / "esbuild" / "bin" / "esbuild"
    node = shutil.which("node")
    if not node:
        raise Trouble("node was not found. Install Node.js 20 or later, then run this again.")
    done = subprocess.run([node, str(program), "--log-level=warning", "--charset=utf8", *arguments],
                          input=text, capture_output=True, text=True, cwd=ROOT,
                          env={**os.environ, "NODE_PATH": os.pathsep.join(map(str, paths))})
    if done.returncode != 0:
        raise Trouble(f"The page scripts could not be bundled:\n{done.stderr.strip()}")
    return done.stdout


def page_script(entry: str, defines: dict[str, object]) -> bytes:
    """A classic script from modules; ``defines`` become constants in it."""
    names = [f"--define:{name}={json.dumps(value, separators=(',', ':'))}" for name, value in defines.items()]
    return esbuild(["--bundle", "--minify", "--format=iife", "--target=es2022", *names,
                    str(ASSETS / "js" / entry)], paths=[MODULES]).encode("utf-8")


def worker_script() -> bytes:
    """One classic worker with everything in it, for web addresses and double-click alike.

    Pyodide refuses classic workers when it sees ``importScripts``; its ES module becomes a plain function here.
    """
    package = MODULES / "pyodide"
    module = (package / "pyodide.asm.mjs").read_text(encoding="utf-8")
    ending = "export default _createPyodideModule;"
    if module.count(ending) != 1 or "import.meta.url" not in module:
        raise Trouble("The pinned browser runtime is not built as expected; restore site_src/runtime and run again.")
    module = module.replace(ending, "self.createPyodideModule = _createPyodideModule;")
    module = module.replace("import.meta.url", '"https://runtime.invalid/pyodide.asm.mjs"')
    loader = (package / "pyodide.js").read_text(encoding="utf-8")
    loader = re.sub(r"//# sourceMappingURL=\S+", "", loader)
    own = page_script("worker.js", {}).decode("utf-8")
    parts = ["self.importScripts = undefined;", "(() => {", module, "})();", loader, ";self.loadPyodide = loadPyodide;",
             own]
    return "\n".join(parts).encode("utf-8")


def calc_modules() -> list[str]:
    """Every module of calc by its dotted name, but the command line, which needs processes that no browser has."""
    names = []
    for file in sorted(CALC.rglob("*.py")):
        parts = file.relative_to(ROOT).with_suffix("").parts
        if parts[-1] == "__main__" or "command_line" in parts or "__pycache__" in parts:
            continue
        names.append(".".join(parts[:-1] if parts[-1] == "__init__" else parts))
    return names


def calc_wheel(version: str, formulas: dict[str, str]) -> bytes:
    """calc as a pure wheel, compiled, with the formulas' MathML beside the code that shows them.

    The command line is left out: it needs processes that no browser has.
    """
    files = {str(file.relative_to(ROOT)).replace("\\", "/"): file.read_bytes()
             for file in sorted(CALC.rglob("*"))
             if file.is_file() and not {"__pycache__", "command_line"} & set(file.parts)}
    sources = {name: files.pop(name) for name in list(files) if name.endswith(".py")}
    files |= compiling.compiled(sources)
    files["calc/render/formulas.json"] = json.dumps(formulas, ensure_ascii=False, sort_keys=True).encode("utf-8")
    info = f"raftwright_calc-{version}.dist-info"
    files[f"{info}/METADATA"] = f"Metadata-Version: 2.1\nName: raftwright-calc\nVersion: {version}\n".encode()
    files[f"{info}/WHEEL"] = (b"Wheel-Version: 1.0\nGenerator: build.py\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
    sums = {name: base64.urlsafe_b64encode(hashlib.sha256(data).digest()).rstrip(b"=").decode()
            for name, data in files.items()}
    record = [f"{name},sha256={sums[name]},{len(data)}" for name, data in files.items()]
    files[f"{info}/RECORD"] = ("\n".join([*record, f"{info}/RECORD,,"]) + "\n").encode()
    return archive(files)


def wheel(name: str) -> Path:
    """The pinned wheel of a package that extras need."""
    found = sorted(WHEELS.glob(f"{name}-*.whl"))
    if len(found) != 1:
        raise Trouble(f"The wheel of {name} is not in .cache/wheels; remove that folder and run this again.")
    return found[0]


def archive(files: dict[str, bytes], store: tuple[str, ...] = ()) -> bytes:
    """A zip with fixed times; names ending as in ``store`` are kept unpacked since they shrink no further."""
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as made:
        for name, data in files.items():
            entry = zipfile.ZipInfo(name, EPOCH)
            entry.compress_type = zipfile.ZIP_STORED if name.endswith(store or ("\0",)) else zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            made.writestr(entry, data)
    return out.getvalue()


def packed_script(name: str, data: bytes) -> bytes:
    """Bytes as a classic script, which a page opened from a disk may load where it may not fetch."""
    text = base64.b64encode(gzip.compress(data, 9, mtime=0)).decode("ascii")
    return f'(self.raftwrightPacked=self.raftwrightPacked||{{}})["{name}"]="{text}";\n'.encode("ascii")


def constant_script(name: str, value: object) -> bytes:
    """Plain data as a classic script."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("\u2028", "\\u2028")
    return f"self.{name}={text};\n".encode()


def lock_info() -> dict:
    """The runtime's own word on its version, which it compares at the start."""
    return json.loads((MODULES / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8"))["info"]


def static_files(folder: Path) -> dict[str, str]:
    """Copy images and fonts under hashed names, then the styles that point at them; logical to hashed names."""
    made: dict[str, str] = {}
    for file in sorted(ASSETS.rglob("*")):
        if file.is_file() and file.suffix not in (".js", ".css", ".md"):
            made[file.relative_to(ASSETS).as_posix()] = write_hashed(folder, file.name, file.read_bytes())
    sheets = sorted((ASSETS / "css").glob("*.css"))

    def address(match: re.Match) -> str:
        target = match.group(1).strip("'\" ")
        if target.startswith(("data:", "#")):
            return match.group(0)
        name = next((key for key in made if key.endswith(target.split("../")[-1].lstrip("./"))), None)
        if name is None:
            raise Trouble(f"A style sheet points at {target}, which is not in site_src/assets.")
        return f"url({made[name]})"

    text = "\n".join(sheet.read_text(encoding="utf-8") for sheet in sheets)
    text = re.sub(r"url\(([^)]+)\)", address, text)
    made["css"] = write_hashed(folder, "style.css", esbuild(["--loader=css", "--minify"], text).encode("utf-8"))
    for sheet in sorted((ASSETS / "css" / "some").glob("*.css")):
        # Styles that only some pages load: the planner is to stay small.
        made[sheet.name] = write_hashed(folder, sheet.name, esbuild(["--loader=css", "--minify"], sheet.read_text(
            encoding="utf-8")).encode("utf-8"))
    # The style of the printed sheets belongs to those who draw them; only pages of paper load it.
    sheets_style = (CALC / "render" / "paper" / "paper.css").read_text(encoding="utf-8")
    made["paper_css"] = write_hashed(folder, "paper.css", esbuild(["--loader=css", "--minify"],
                                                                  sheets_style).encode("utf-8"))
    icon = next((name for name in ("icons/icon.svg", "img/icon.svg", "icon.svg") if name in made), "")
    made["icon"] = made.get(icon, "")
    return made
