"""The only build script: sets up its own tools, builds guides and calc into dist/, serves, tests, measures, packs."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
sys.path.insert(0, str(ROOT / "site_src"))

if sys.version_info < (3, 11):  # noqa: UP036 (an older Python reads this far, and gets a sentence)
    sys.exit("This needs Python 3.11 or later; run it again with a newer python3.")

from tools import setup  # noqa: E402  (the check above must come first)
from tools.setup import Trouble  # noqa: E402


# Verbs that run pytest.
PASSING_ON = ("test", "night", "check")


def again(python: Path, arguments: list[str]) -> int:
    """Run this script once more inside its own environment, where the pinned packages are."""
    return subprocess.call([str(python), str(ROOT / "build.py"), *arguments, "--inside"])


def build() -> Path:
    """Make dist/ and say where it is."""
    from tools import site
    made = site.build()
    print(f"Built {made.pages} pages in {made.seconds:.1f} s: {made.folder}")
    return made.folder


def run(options: argparse.Namespace) -> int:
    """One verb, inside the environment."""
    from tools import bench, serve, site, testing
    if options.verb == "golden":
        from tools import golden
        return golden.run(options.renew)
    if options.verb == "mutate":
        from tools import mutate
        seed = 1 if options.seed is None else options.seed
        return mutate.run(options.where, options.sample, seed, options.seconds, options.workers)
    if options.verb == "test":
        build()
        return testing.run(options.engines, options.rest)
    if options.verb == "night":
        return testing.night(options.seed, options.rest)
    if options.verb == "check":
        build()
        return testing.check(options.rest)
    if options.verb == "serve":
        if not (site.DIST / "index.html").is_file():
            raise Trouble("There is no dist/ yet. Run `python3 build.py build` first.")
        return serve.forever(site.DIST, options.port)
    build()
    if options.verb == "bench":
        return bench.run()
    if options.verb == "shots":
        from tools import shots
        return shots.run(ROOT / "dist-shots", options.only)
    if options.verb == "pack":
        print(f"Packed {site.pack()}")
    if options.verb == "all":
        return serve.forever(site.DIST, options.port)
    return 0


def port(text: str) -> int:
    """A port's number as typed; argparse says the rest."""
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= 65_535):
        raise argparse.ArgumentTypeError(f"give a whole number from 1 to 65535, not {text[:40]}")
    return int(text)


def main(arguments: list[str]) -> int:
    """Read the verb, set up what it needs, do it."""
    parser = argparse.ArgumentParser(prog="build.py", description=__doc__)
    verbs = ("all", "bench", "build", "check", "golden", "mutate", "night", "pack", "serve", "shots", "test")
    parser.add_argument("verb", nargs="?", default="all", choices=verbs, help="all (the default) builds and serves")
    parser.add_argument("--port", type=port, default=8000,
                        help="where to serve on 127.0.0.1, from 1 to 65535 (default 8000)")
    parser.add_argument("--engines", choices=("chromium", "all"), default="chromium",
                        help="browsers to test in; all adds Firefox and WebKitGTK where they are installed")
    parser.add_argument("--renew", action="store_true", help="golden: write the answers of today, after showing them")
    parser.add_argument("--where", choices=("relations", "topics", "models", "keeping", "paper", "all"),
                        default="all", help="mutate: the folder of calc to try")
    parser.add_argument("--sample", type=int, default=200, help="mutate: how many wrong changes to try (default 200)")
    parser.add_argument("--seed", type=int, help="night and mutate: draw the same again as with this seed before")
    parser.add_argument("--only", default="", help="shots: only pictures whose name holds this, such as plan-air-360")
    parser.add_argument("--seconds", type=float, default=None, help="mutate: begin no more after so many seconds")
    parser.add_argument("--workers", type=int, default=None, help="mutate: processes at a time (default: all cores)")
    parser.add_argument("--inside", action="store_true", help=argparse.SUPPRESS)
    options, options.rest = parser.parse_known_args(arguments)
    if options.rest and options.verb not in PASSING_ON:
        parser.error(f"unknown: {' '.join(options.rest)} (only {' and '.join(PASSING_ON)} pass further words on, to "
                     "pytest)")
    try:
        if options.inside:
            return run(options)
        python = setup.python(with_tests=options.verb in (*PASSING_ON, "bench", "golden", "mutate", "shots"))
        if options.verb not in ("serve", "night", "golden", "mutate"):
            setup.runtime()
            setup.wheels(python)
        return again(python, arguments or ["all"])
    except Trouble as trouble:
        print(f"build.py: {trouble}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    os.chdir(ROOT)
    sys.exit(main(sys.argv[1:]))
