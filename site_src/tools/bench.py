"""Measures what a reader feels, in one run, against a bare start of the same Python in the same browser."""

from __future__ import annotations

import gzip
import json
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

from . import felt, serve, setup, site

ROUNDS = 5
BARE = """<!doctype html><meta charset="utf-8"><title>bare</title><script src="bare.js" defer></script>"""
BARE_PAGE = """const began = performance.now();
const worker = new Worker("bare-worker.mjs", {type: "module"});
worker.onmessage = () => { document.documentElement.dataset.bare = String(performance.now() - began); };
"""
BARE_WORKER = """import {loadPyodide} from "./pyodide.mjs";
await loadPyodide({indexURL: new URL(".", import.meta.url).href});
postMessage("ready");
"""


BARE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "python_stdlib.zip", "pyodide-lock.json")


def bare_folder(folder: Path) -> None:
    """A page that does nothing but start Python as its package documents it."""
    for name in BARE_FILES:
        shutil.copyfile(setup.MODULES / "pyodide" / name, folder / name)
    (folder / "index.html").write_text(BARE, encoding="utf-8")
    (folder / "bare.js").write_text(BARE_PAGE, encoding="utf-8")
    (folder / "bare-worker.mjs").write_text(BARE_WORKER, encoding="utf-8")


def _bare_start(browser, address: str) -> float:
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{address}/index.html")
    page.wait_for_function("document.documentElement.dataset.bare")
    took = float(page.evaluate("document.documentElement.dataset.bare"))
    context.close()
    return took


def _first_and_second(browser, address: str) -> tuple[float, float]:
    """Milliseconds from asking for the engine to `ready`: a first visit, and one with the kept snapshot."""
    context = browser.new_context(service_workers="block")
    took = []
    for visit in ("start", "snapshot"):
        page = context.new_page()
        page.goto(f"{address}/plan/index.html")
        page.wait_for_selector('html[data-engine="ready"]', timeout=90_000)
        if page.evaluate("document.documentElement.dataset.engineFrom") != visit:
            took.append(float("nan"))
        else:
            times = page.evaluate("raftwright.times()")
            took.append(times["ready"] - times["start"])
        if visit == "start":
            page.wait_for_selector("html[data-snapshot]", timeout=60_000)
        page.close()
    context.close()
    return took[0], took[1]


_LAYOUT = """async (lengths) => {
  const took = [];
  for (const length of lengths) {
    const plan = {units: "metric", "bath.length": length, "bath.width": "1.2 m", "board.spacing": "150 mm"};
    const began = performance.now();
    await raftwright.run({op: "solve", plan, results: true});
    took.push(performance.now() - began);
  }
  return took;
}"""


# A year of four readings a day: each thing that a page of a running bath asks, the second time it asks it.
_YEAR_OF_READINGS = """async () => {
  const entries = [];
  for (let at = 0; at < 1460; at += 1) {
    const moment = new Date(Date.UTC(2025, 10, 25, 6) + at * 21600000).toISOString().slice(0, 16);
    entries.push({id: `r${at}`, kind: "reading", at: moment, version: 1, typed: {time: moment,
      temperature: String(66 + at % 7), ec: `1.${30 + at % 20}`, ph: `5.${at % 10}`, oxygen: `7.${at % 10}`}});
  }
  const plan = {"feed.way": "salts"}, now = "2026-11-25T07:30", log = "bench";
  const asked = {
    "opened": {op: "log_open", entries}, "one entry kept": {op: "log_put", put: [entries[7]]},
    "an entry asked about": {op: "reading_ask", typed: {ph: "58"}}, "list of today": {op: "today"},
    "strips of two weeks": {op: "log_pictures", parts: ["strips"]}, "year": {op: "log_pictures", parts: ["year"]},
  };
  const took = {};
  for (let round = 0; round < 3; round += 1) {
    for (const [name, request] of Object.entries(asked)) {
      const began = performance.now();
      const answer = await raftwright.run({plan, now, log, ...request});
      took[name] = answer.error ? NaN : performance.now() - began;
    }
  }
  return took;
}"""


_KEEP_A_YEAR = """() => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright-log", 1);
  asked.onupgradeneeded = () => {
    for (const name of ["entries", "kept"]) asked.result.createObjectStore(name, {keyPath: "id"});
  };
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const writing = asked.result.transaction("entries", "readwrite");
    for (let at = 0; at < 1460; at += 1) {
      const time = new Date(Date.now() - at * 21600000).toISOString().slice(0, 16);
      writing.objectStore("entries").put({id: `r${at}`, kind: "reading", at: time, version: 1, changed: time,
        typed: {time, temperature: String(66 + at % 7), ec: `1.${30 + at % 20}`, ph: `5.${at % 10}`}});
    }
    writing.oncomplete = () => { asked.result.close(); resolve(); };
  };
})"""
# From the press until the reading is on the disk and the form is empty, and until the pictures are drawn anew.
_TYPE_INTO_A_YEAR = """async () => {
  const turn = () => new Promise((resolve) => setTimeout(resolve, 1));
  const took = [];
  for (const ph of ["5.9", "6.1", "6.0"]) {
    const rows = document.documentElement.dataset.drawn;
    const field = document.querySelector('[name="reading.ph"]');
    field.value = ph;
    const began = performance.now();
    document.querySelector('[data-action="add-reading"]').click();
    while (field.value) await turn();
    const kept = performance.now() - began;
    while (document.documentElement.dataset.drawn === rows) await turn();
    took.push([kept, performance.now() - began]);
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
  return took;
}"""


def _a_year_on_its_page(browser, address: str) -> dict[str, float]:
    """Milliseconds that a page of a year of four readings a day takes to open, to take one more, and to draw it."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.goto(f"{address}/release.json")
    page.evaluate(_KEEP_A_YEAR)
    page.add_init_script("""new MutationObserver(() => {
        if (!self.listed && document.documentElement.dataset.log) self.listed = performance.now();
    }).observe(document, {attributes: true, subtree: true});""")
    opened = []
    for _ in range(3):
        page.goto(f"{address}/log/index.html")
        page.wait_for_selector('html[data-drawn]', timeout=120_000)
        opened.append(page.evaluate("""self.listed
            - performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd"""))
    took = page.evaluate(_TYPE_INTO_A_YEAR)
    context.close()
    return {"its page opens, from its scripts to the list": statistics.median(opened),
            "its page takes one more": statistics.median(kept for kept, _ in took),
            "    and has drawn it": statistics.median(drawn for _, drawn in took)}


_RECALCULATE = """async ([from, to]) => {
  for (let at = from; at < to; at += 1) {
    const plan = {"bath.length": `${30 + (at % 400) * 0.25} in`};
    await raftwright.run({op: "solve", plan, have: {}});
    while ((await raftwright.run({op: "rest", plan, have: {}})).done === false);
  }
}"""

# What a browser's own tools call slow 4G, and a phone's processor.
SLOW_4G = {"offline": False, "latency": 562.5, "downloadThroughput": 180_000, "uploadThroughput": 84_375}
SLOWER = 4

_WATCH_PAINT = """(() => {
  self.shifts = 0;
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) if (!one.hadRecentInput) self.shifts += one.value;
  }).observe({type: "layout-shift", buffered: true});
  new PerformanceObserver((list) => { self.largest = list.getEntries().at(-1).startTime; })
    .observe({type: "largest-contentful-paint", buffered: true});
})();"""


def _slow_visit(browser, address: str) -> dict[str, float]:
    """Milliseconds until the largest paint, and the layout shift up to Python's first answer, on a slow phone."""
    context = browser.new_context(service_workers="block", viewport={"width": 360, "height": 740})
    context.add_init_script(_WATCH_PAINT)
    page = context.new_page()
    tools = context.new_cdp_session(page)
    tools.send("Network.enable")
    tools.send("Network.emulateNetworkConditions", SLOW_4G)
    tools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(f"{address}/plan/index.html", wait_until="commit")
    page.wait_for_timeout(8000)
    readable = page.evaluate("self.largest")
    tools.send("Network.emulateNetworkConditions", {**SLOW_4G, "latency": 0, "downloadThroughput": -1})
    page.wait_for_selector('html[data-engine="ready"]', timeout=180_000)
    page.wait_for_timeout(2000)
    found = {"readable": readable, "shift": page.evaluate("self.shifts")}
    context.close()
    return found


def _renderer_kilobytes(browser) -> int:
    """Resident memory of the largest page process, where the system tells it; 0 where it does not."""
    tools = browser.new_browser_cdp_session()
    found = [0]
    for process in tools.send("SystemInfo.getProcessInfo")["processInfo"]:
        status = Path(f"/proc/{process['id']}/status")
        if process["type"] == "renderer" and status.is_file():
            found += [int(one.split()[1]) for one in status.read_text().splitlines() if one.startswith("VmRSS:")]
    tools.detach()
    return max(found)


def _memory_growth(browser, address: str) -> float:
    """Resident memory after 1,000 recalculations over that after 10."""
    page = browser.new_page()
    page.goto(f"{address}/plan/index.html")
    page.wait_for_selector("html[data-snapshot]", timeout=120_000)
    page.evaluate(_RECALCULATE, [0, 10])
    before = _renderer_kilobytes(browser)
    page.evaluate(_RECALCULATE, [10, 1000])
    after = _renderer_kilobytes(browser)
    page.close()
    return after / before if before else float("nan")


def _build_times() -> tuple[float, float]:
    with tempfile.TemporaryDirectory() as place:
        more = Path(place) / "guides"
        shutil.copytree(site.guides.FOLDER, more)
        plain = site.build(Path(place) / "dist-plain", more).seconds
        for number in range(100):
            (more / f"extra-{number}.md").write_text(
                f"---\ntitle: Extra {number}\norder: {100 + number}\nsummary: One of a hundred\ntopics: water\n---\n"
                "A paragraph.\n\n{{ calculator }}\n\n" + "## Part\n\nMore words.\n\n" * 20, encoding="utf-8")
        return plain, site.build(Path(place) / "dist-more", more).seconds


PLANS = 200


def _plans_a_second(workers: int) -> float:
    """Lines answered in a second once the first is there, so that starting the processes does not count."""
    from calc.command_line import lines
    given = (json.dumps({"bath.length": f"{30 + at * 0.25} in"}) for at in range(PLANS))
    found = lines.answers(given, workers)
    next(found)
    began = time.perf_counter()
    answered = sum(1 for _ in found)
    return answered / (time.perf_counter() - began)


def _many_plans() -> None:
    """One worker and two in turns, so that both meet the same moods of the machine."""
    pairs = [(_plans_a_second(1), _plans_a_second(2)) for _ in range(3)]
    one, two = (statistics.median(found) for found in zip(*pairs, strict=True))
    line("plans a second, one worker and two", f"{one:.0f} and {two:.0f}")
    line("two workers / one", f"{two / one:.2f}", "1.7")


def _seconds(action) -> float:
    began = time.perf_counter()
    action()
    return time.perf_counter() - began


def _searches() -> None:
    """The two searches that could grow out of hand, in turns with what they are held against."""
    from calc.geometry import layout
    from calc.numeric.choose import choose_pumps
    from calc.plan import Plan
    from calc.solve import solve

    def raft(length_m: float) -> float:
        layout.rectangle.cache_clear()
        layout._best_lattice.cache_clear()
        return _seconds(lambda: layout.rectangle(length_m, 1.2, 0.06, 0.15))

    # Twenty pumps of equal worth: nothing rules any of them out.
    flows = tuple(1.0 + 0.61803398875 * n % 1 + n * 0.1371 for n in range(20))

    def pumps() -> float:
        choose_pumps.cache_clear()
        return _seconds(lambda: choose_pumps(flows, flows, 100.0))

    turns = [(raft(15.0), raft(30.0), pumps(), _seconds(lambda: solve(Plan({})))) for _ in range(ROUNDS)]
    half, whole, chosen, plan = (statistics.median(took) for took in zip(*turns, strict=True))
    line("holes of a 30 m raft / of a 15 m raft", f"{whole / half:.2f}", "2")
    line("choosing among 20 pumps of equal worth / a whole plan", f"{chosen / plan:.2f}")


def _typing(page) -> None:
    """What a key costs on each sheet, and the worst plan."""
    found = felt.at_every_step(page)
    for one in found:
        line(f"key to answers in sight, {one.step}, 95th percentile", f"{one.answered:.1f} ms", "8 ms, 16 at worst")
        line("    / a full solve in this Python beside it", f"{one.answered / one.solve:.2f}", "1.0")
        line("    whole plan settled, median", f"{one.settled:.1f} ms", "50 ms")
    line("a full solve of the default plan in this Python", f"{statistics.median(one.solve for one in found):.1f} ms")
    known, whole, longest = felt.worst(page)
    line("worst plan: first sheet known", f"{known:.0f} ms")
    line("    all of it", f"{whole:.0f} ms", "1,000 ms")
    line("    longest time in which no key is heard", f"{longest:.0f} ms", "100 ms")


def _shares() -> None:
    for name, share in felt.shares().items():
        line(f"share of a full solve: {name}", f"{share * 100:.0f} %")


def sizes() -> tuple[int, int, int]:
    """Bytes of the planner's HTML, of it with script and style, and of those three packed."""
    files = [site.DIST / "plan" / "index.html", *(next((site.DIST / "assets").glob(pattern))
                                                  for pattern in ("page.*.js", "style.*.css"))]
    read = [file.read_bytes() for file in files]
    return len(read[0]), sum(map(len, read)), sum(len(gzip.compress(one, 9)) for one in read)


def line(name: str, value: str, aim: str = "") -> None:
    """One measured thing."""
    print(f"{name:<62} {value:>14}" + (f"   aim {aim}" if aim else ""), flush=True)


def run() -> int:
    """Print every measure; returns 0."""
    from playwright.sync_api import sync_playwright
    sys.path.insert(0, str(setup.ROOT))
    arguments = ["--disable-background-networking"] + (["--no-sandbox"] if setup.is_root() else [])
    with tempfile.TemporaryDirectory() as place, sync_playwright() as player:
        bare_folder(Path(place))
        bare_server, bare_address = serve.in_background(Path(place))
        own_server, own_address = serve.in_background(site.DIST, site.POLICY)
        browser = player.chromium.launch(executable_path=setup.chromium(), args=arguments)
        bare, first, second = [], [], []
        for _ in range(ROUNDS):
            bare.append(_bare_start(browser, bare_address))
            one, two = _first_and_second(browser, own_address)
            first.append(one)
            second.append(two)
        base = statistics.median(bare)
        line("bare start of Python in a worker", f"{base:.0f} ms")
        line("first visit to ready / bare", f"{statistics.median(first) / base:.2f}", "1.1")
        line("second visit to ready / bare", f"{statistics.median(second) / base:.2f}", "0.25")
        disk = [_first_and_second(browser, site.DIST.as_uri()) for _ in range(ROUNDS)]
        line("first visit from a disk / bare", f"{statistics.median(one for one, _ in disk) / base:.2f}", "1.6")
        line("second visit from a disk / bare", f"{statistics.median(two for _, two in disk) / base:.2f}", "0.4")
        slow = _slow_visit(browser, own_address)
        line("readable, slow 4G and a processor four times slower", f"{slow['readable']:.0f} ms")
        line("layout shift up to the first answer", f"{slow['shift']:.4f}", "0")
        line("memory after 1,000 recalculations / after 10", f"{_memory_growth(browser, own_address):.2f}", "1.05")
        page = browser.new_page()
        page.goto(f"{own_address}/plan/index.html")
        page.wait_for_selector('html[data-engine="ready"]', timeout=90_000)
        page.wait_for_timeout(1000)
        _typing(page)
        lengths = ["7.5 m", "15 m", "30 m"]
        for length, took in zip(lengths, page.evaluate(_LAYOUT, lengths), strict=True):
            line(f"whole plan with a {length} x 1.2 m raft at 150 mm", f"{took:.0f} ms",
                 "100 ms" if length == "30 m" else "")
        for name, took in page.evaluate(_YEAR_OF_READINGS).items():
            line(f"a year of four readings a day: {name}", f"{took:.0f} ms", "100 ms")
        for name, took in _a_year_on_its_page(browser, own_address).items():
            line(f"a year of four readings a day: {name}", f"{took:.0f} ms", "100 ms")
        browser.close()
        bare_server.shutdown()
        own_server.shutdown()
    _many_plans()
    _searches()
    plain, more = _build_times()
    line("building the site", f"{plain:.2f} s")
    line("with 100 more guides / without", f"{more / plain:.2f}")
    _shares()
    html, whole, packed = sizes()
    line("the planner before Python: HTML", f"{html:,} bytes", "150,000")
    line("    with script and style", f"{whole:,} bytes", "220,000")
    line("    packed by gzip", f"{packed:,} bytes", "60,000")
    ours = sum(f.stat().st_size for f in _fetched()) + whole
    bare_bytes = sum((setup.MODULES / "pyodide" / name).stat().st_size for name in BARE_FILES)
    line("bytes of a first visit / of a bare start", f"{ours / bare_bytes:.2f}", "1.1")
    return 0


def _fetched() -> list[Path]:
    folder = site.DIST / "assets"
    return [next(folder.glob(pattern)) for pattern in
            ("pyodide.*.asm.wasm", "python_stdlib.*.zip", "calc.*.whl", "worker.*.js")]
