"""Pictures of every step and of three guides, in the sizes and lights that readers have, for anyone to look at."""

from __future__ import annotations

import os
from pathlib import Path

from playwright.sync_api import sync_playwright

from . import serve, setup, site

WIDTHS = {360: 740, 768: 1024, 1280: 800}
LIGHTS = ("light", "dark")
GUIDES = ("measure-the-water", "air", "mix-the-feed")
READY = 'html[data-engine="ready"]'
# Verdicts and what would mend them follow when nothing has been typed for a while.
PAUSE = 1500


def pages() -> dict[str, str]:
    """What is looked at: a name for the picture, and the address below the top."""
    from calc.steps import STEPS
    steps = {f"plan-{step.name}": f"plan/index.html#step={step.name}" for step in STEPS}
    return {**steps, **{f"guide-{name}": f"guides/{name}/index.html" for name in GUIDES}}


def run(folder: Path, only: str = "") -> int:
    """Take all pictures whose name holds ``only`` into ``folder``, the printed ones as PDF."""
    folder.mkdir(parents=True, exist_ok=True)
    server, address = serve.in_background(site.DIST, site.POLICY)
    taken = 0
    with sync_playwright() as player:
        arguments = ["--disable-background-networking"] + (["--no-sandbox"] if setup.is_root() else [])
        browser = player.chromium.launch(args=arguments,
                                         executable_path=os.environ.get("RAFTWRIGHT_CHROMIUM") or setup.chromium())
        for width, height in WIDTHS.items():
            for light in LIGHTS:
                context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=light,
                                              has_touch=width < 600)
                for name, path in pages().items():
                    if only not in f"{name}-{width}-{light}":
                        continue
                    page = context.new_page()
                    page.goto(f"{address}/{path}")
                    page.wait_for_selector(READY, timeout=120_000)
                    page.wait_for_timeout(PAUSE)
                    page.screenshot(path=folder / f"{name}-{width}-{light}.png", full_page=True)
                    taken += 1
                    if width == max(WIDTHS) and light == "light":
                        page.pdf(path=folder / f"{name}-print.pdf", format="A4", print_background=True)
                        taken += 1
                    page.close()
                context.close()
        browser.close()
    server.shutdown()
    server.server_close()
    print(f"Took {taken} pictures: {folder}")
    return 0
