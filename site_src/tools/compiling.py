"""Compiles calc with the very Python that the browser runs, so that no visit waits for it; kept by content."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import shutil
import subprocess
from pathlib import Path

from .setup import CACHE, MODULES, Trouble

_SCRIPT = """
const { loadPyodide } = await import(process.argv[1]);
let text = "";
for await (const part of process.stdin) text += part;
const python = await loadPyodide();
python.globals.set("given", text);
process.stdout.write(python.runPython(`
import ast, base64, json
from importlib import _bootstrap_external, util
from types import CodeType

def spare(code):
    # Where each instruction stood is a third of the bytes, and nobody reads a traceback there.
    inner = tuple(spare(one) if isinstance(one, CodeType) else one for one in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")

def undocumented(source):
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)):
            if ast.get_docstring(node, clean=False) is not None:
                node.body[:1] = [] if node.body[1:] else [ast.copy_location(ast.Pass(), node.body[0])]
    return tree

made = {}
for name, source in json.loads(given).items():
    source = source.encode("utf-8")
    code = spare(compile(undocumented(source), name, "exec", dont_inherit=True))
    pyc = _bootstrap_external._code_to_hash_pyc(code, util.source_hash(source), False)
    made[name + "c"] = base64.b64encode(pyc).decode()
json.dumps(made)
`));
"""


def compiled(sources: dict[str, bytes]) -> dict[str, bytes]:
    """Modules by path ("calc/plan.py") as compiled ones by theirs ("calc/plan.pyc"), which need no source beside them.

    Raises Trouble where the browser's Python does not run in node.
    """
    package = MODULES / "pyodide"
    told = hashlib.sha256((package / "package.json").read_bytes() + _SCRIPT.encode())
    for name, source in sorted(sources.items()):
        told.update(name.encode() + b"\0" + source + b"\0")
    kept = CACHE / "compiled" / f"{told.hexdigest()[:20]}.json"
    try:
        text = kept.read_text(encoding="utf-8")
    except FileNotFoundError:
        text = _compile(package / "pyodide.mjs", sources)
        _keep(kept, text)
    return {name: base64.b64decode(packed) for name, packed in json.loads(text).items()}


def _compile(runtime: Path, sources: dict[str, bytes]) -> str:
    node = shutil.which("node")
    if not node:
        raise Trouble("node was not found. Install Node.js 20 or later, then run this again.")
    given = json.dumps({name: source.decode("utf-8") for name, source in sorted(sources.items())})
    done = subprocess.run([node, "--input-type=module", "-e", _SCRIPT, runtime.as_uri()], input=given,
                          capture_output=True, text=True, encoding="utf-8")
    if done.returncode != 0:
        raise Trouble(f"calc could not be compiled for the browser:\n{done.stderr.strip()[-1000:]}")
    return done.stdout


def _keep(file: Path, text: str) -> None:
    """Write a file whole or not at all, in place of those of other sources; two builds at once do no harm."""
    file.parent.mkdir(parents=True, exist_ok=True)
    for other in file.parent.glob("*.json"):
        other.unlink(missing_ok=True)
    fresh = file.with_suffix(f".{os.getpid()}")
    fresh.write_text(text, encoding="utf-8")
    fresh.replace(file)
