"""Builds dist/: gathers guides and calc, bundles the scripts, renders every page, then lists what was made."""

from __future__ import annotations

import errno
import hashlib
import importlib
import json
import shutil
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

import jinja2
from latex2mathml.converter import convert as to_mathml
from markupsafe import Markup

from . import (
    api_docs,
    bundle,
    checked,
    defaults,
    finding,
    front,
    glossary,
    guides,
    licences,
    questions,
    reference,
    running,
)
from .setup import MODULES, ROOT, Trouble

DIST = ROOT / "dist"
TEMPLATES = ROOT / "site_src" / "templates"
PYPROJECT = ROOT / "pyproject.toml"
# Opened from a disk, the worker is a Blob and its answers to Python's requests are made in place.
POLICY = ("default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self' blob:; style-src 'self'; "
          "img-src 'self' data:; font-src 'self'; connect-src 'self' blob: data:; manifest-src 'self'; "
          "base-uri 'none'; form-action 'none'")
# Scripts of pages that are neither planner nor guide.
SCRIPTS = ("shelf.js", "home.js", "sidebyside.js", "files.js", "running.js", "club.js")
# The copy for a disk holds what web addresses never fetch, and the other way round.
ONLY_ON_DISK = "assets/packed-"
ARCHIVE = "raftwright.zip"
# Pages whose prose links no words here: guides and Safety do so in their own texts, one is the list of words itself,
# two are written anew by their scripts, and the others speak of files, code, licenses and pages.
UNEXPLAINED = ("guide", "safety", "reference-words", "sidebyside", "club", "files", "api", "licences", "search",
               "guides")
# How often a finished build tries to take its place while others do the same.
MOST_TRIES = 20
START_HERE = """Raftwright, the whole site in one folder.

1. Unpack this zip into a folder (do not open the pages from inside the zip).
2. Double-click index.html. It opens in your web browser and works without the internet.
3. Nothing you type leaves this machine. Use "Save as a file" to take a plan elsewhere.

To put it on the web, copy the whole folder to any host for static files.
"""


@dataclass
class Page:
    """One page before it is rendered; ``path`` is its file below dist, ``kind`` names its template."""

    path: str
    kind: str
    title: str
    summary: str
    nav: str = ""
    content: str = ""
    calc_html: str = ""
    more: dict = field(default_factory=dict)

    @property
    def root(self) -> str:
        """The relative way from this page to the top."""
        return "../" * self.path.count("/")


@dataclass(frozen=True)
class Made:
    """What a build made."""

    folder: Path
    pages: int
    seconds: float
    release: str


def version() -> str:
    """The project's version, from the one place that has it."""
    from calc import __version__
    return __version__


def formulas(relations: dict) -> dict[str, str]:
    """MathML of every relation; a formula that cannot be read stops the build with the relation's name."""
    made = {}
    for name, relation in relations.items():
        try:
            made[name] = to_mathml(relation.formula, display="block")
        except Exception as problem:  # the converter raises many kinds
            raise Trouble(f"The formula of {name} cannot be turned into MathML: {problem!r}") from None
    return made


def pages(found: list[guides.Guide], calculator, words: list[glossary.Word]) -> list[Page]:
    """Every page of the site, in the order of the menu."""
    fixed = [
        Page("index.html", "home", "Raftwright", "Plan, build and run a small hydroponic raft bath, from a tape "
             "measure to a shopping list.", "Home"),
        Page("shelf/index.html", "shelf", "Shelf", "Your plans on this machine: open, copy, compare, take with you.",
             "Shelf"),
        Page("side-by-side/index.html", "sidebyside", "Side by side", "Two to four plans beside one another: what "
             "differs, and what that does."),
        Page("plan/index.html", "planner", "The planner", "All questions and all answers on one page.", "Plan",
             calc_html=calculator(None)),
        *running_pages(),
        Page("guides/index.html", "guides", "Guides", "How a raft bath works, one step a page.", "Guides"),
        Page("reference/index.html", "reference", "Reference", "Formulas, sources, units and words of the trade.",
             "Reference"),
        Page("checked/index.html", "checked", "Checked against", "Every outside check value beside what the code "
             "gives today.", "Checked"),
        Page("api/index.html", "api", "From a script", "The same calculations from Python and from the command line."),
        Page("safety/index.html", "safety", "Safety", "Electricity, load, water, tools: read this before you build.",
             "Safety"),
        Page("offline/index.html", "offline", "Take it offline", "A stick, an installed page, or paper: three ways to "
             "use this without the internet.", "Offline"),
        Page("search/index.html", "search", "Search", "Find a guide, a word, a question or a figure.", "Search"),
        Page("licences/index.html", "licences", "Licenses", "What this site contains that others made, with their "
             "licenses."),
    ]
    fixed += [Page(sheet.path, sheet.kind, sheet.title, sheet.summary, more={"printed": reference.printed(sheet)})
              for sheet in reference.SHEETS]
    titles = {one.path: one.title for one in (*fixed, *found)}
    fixed.append(Page(questions.PATH, "questions", "Check yourself", "Twenty questions that a beginner must be able to "
                      "answer, with the place that answers each.",
                      more={"questions": questions.read(), "titles": titles}))
    for guide in found:
        before, _, after = glossary.linked(guide.html, words, "../../").partition(guides.CALCULATOR)
        fixed.append(Page(f"guides/{guide.name}/index.html", "guide", guide.title, guide.summary,
                          content=after or before,
                          calc_html=calculator(guide) if guide.topics else "",
                          more={"guide": guide, "intro": Markup(before if after else "")}))
    return fixed


def running_pages() -> list[Page]:
    """The pages of a running bath; the menu names the first."""
    held = running.contents()
    return [Page(f"{name}/index.html", name, title, summary, title if name == "today" else "", more=held)
            for name, title, summary in running.NAMES]


def lesson_pages() -> list[Page]:
    """The lesson with the numbers of the example, a page for each system of units."""
    from calc.plan import Plan
    from calc.render import lesson
    from calc.solve import solve
    return [Page(path, "lesson", title, "The math of a bath by hand: a worksheet, an answer key, six activities.",
                 more={"metric": system == "metric", "lesson": {name: Markup(html) for name, html in lesson.parts(
                     solve(Plan({"units": system})), lesson.EXAMPLE).items()}})
            for path, title, system in (("lesson/index.html", "A lesson", "us"),
                                        ("lesson/metric/index.html", "A lesson in metric units", "metric"))]


def formula_pages(formula_groups: list) -> list[Page]:
    """The formulas, a page a topic."""
    return [Page(group.path, "reference-formulas", f"Formulas: {group.title}", "Each with its symbols, the range it "
                 "holds for, and its source.", more={"group": group, "held": held}) for group, held in formula_groups]


# The pages of paper: folder, title, and what each is for.
PAPER = (("sheet", "Build sheet", "What to build and how, with this plan’s own sizes and dangers."),
         ("list", "Shopping list", "What to buy, shop by shop, in the packs that things are sold in."),
         ("template", "Drill template", "Every hole at its real size, to lay on the board and prick through."),
         ("calendar", "Calendar", "What to sow, move and cut, week by week, for the wall."))


def paper_pages(design) -> list[Page]:
    """What is printed for the built-in example; the page's script puts the reader's own plan in its place."""
    from calc.render import signs
    from calc.render.paper import files, leaf
    paper = leaf.Paper(design, leaf.EXAMPLE, example=True)
    made = [Page(f"{name}/index.html", "paper", title, said, content=files.SHEETS[name](paper))
            for name, title, said in PAPER if name in files.SHEETS]
    for page in made:
        page.more = {"say": page.summary, "others": made, "symbols": Markup(signs.symbols())}
    return made


def files_page(design) -> Page:
    """The menu of files; the page's script hands them out, of the reader's own plan."""
    from calc.render.saved import menu
    return Page("files/index.html", "files", "Files of the plan", "To save: tables, drawings for a cutter, dates for a "
                "phone, plain data.", content=menu.html(design))


def club_page() -> Page:
    """The page of a club, with the invented one in it; the page's script puts the reader's own in its place."""
    from calc.club import invented, record
    from calc.render.club import page
    from calc.render import signs
    made = page.parts(invented.CLUB)
    kept = {key: value for key, value in invented.CLUB.items() if key not in ("kind", "format")}
    return Page("club/index.html", "club", "A club", "Build together: one list for all, what it costs each, who does "
                "the rounds, and a handout of two pages.", more={
                    "club": record.read(invented.CLUB), "invented": json.dumps(kept),
                    "symbols": Markup(signs.symbols()),
                    "parts": {name: Markup(html) for name, html in made.items() if isinstance(html, str)}})


def workings_pages(design) -> list[Page]:
    """How every answer of the example was found, a page a step: what a reader without scripts cannot unfold."""
    from calc.render import answers, verdicts
    from calc.steps import STEPS
    made = []
    for step in STEPS:
        parts = [{"name": topic.NAME, "title": topic.TITLE,
                  "rows": [{"key": spec.key, "label": spec.label, "shown": design.shown(spec.key),
                            "html": Markup(answers.working_of(spec.key, design))}
                           for spec in topic.RESULTS if answers.has_row(spec.key, design)]}
                 for topic in verdicts.topics_of(step, design)]
        made.append(Page(f"workings/{step.name}/index.html", "workings", f"{step.title}: how it was worked out",
                         "Every figure of the built-in example, whose sizes are invented, with its sum, formula and "
                         "source.", more={"parts": parts, "step": step, "steps": STEPS}))
    return made


def tree_digest(*folders: Path) -> str:
    """A name for a state of the sources; the release id."""
    found = hashlib.sha256()
    for folder in folders:
        files = [folder] if folder.is_file() else sorted(folder.rglob("*"))
        for file in files:
            if file.is_file() and "__pycache__" not in file.parts:
                found.update(file.relative_to(ROOT).as_posix().encode() + b"\0" + file.read_bytes())
    return found.hexdigest()[:12]


def assets(folder: Path, release: str, mathml: dict[str, str], to_come: dict[str, dict]) -> dict[str, str]:
    """Write everything under dist/assets; returns logical names to addresses relative to the top.

    ``to_come`` is what the planner lacks when it is painted, by step: a script, which a page from a disk may load too.
    """
    folder.mkdir(parents=True)
    named = bundle.static_files(folder)
    package = MODULES / "pyodide"
    data = {name: (package / file).read_bytes() for name, file in bundle.RUNTIME_FILES.items()}
    data["calc.whl"] = bundle.calc_wheel(version(), mathml)
    worker = bundle.worker_script()
    files = {name: bundle.write_hashed(folder, name, content) for name, content in data.items()}
    packed = {name: bundle.write_hashed(folder, f"packed-{name.replace('.', '-')}.js",
                                        bundle.packed_script(name, content))
              for name, content in {**data, "worker.js": worker}.items()}
    extras = {}
    for name in (*bundle.INSTALLER, *bundle.EXTRAS):
        wheel = bundle.wheel(name)
        content = wheel.read_bytes()
        extras[name] = {"wheel": wheel.name, "sha256": hashlib.sha256(content).hexdigest(),
                        "file": bundle.write_hashed(folder, f"extra-{name}.whl", content),
                        "packed": bundle.write_hashed(folder, f"packed-extra-{name}.js",
                                                      bundle.packed_script(wheel.name, content))}
    later = bundle.write_hashed(folder, "to-come.js", bundle.constant_script("raftwrightToCome", to_come))
    known = bundle.write_hashed(folder, "defaults.js",
                                bundle.constant_script("raftwrightDefaults", defaults.declared()))
    passing = bundle.write_hashed(folder, "passing.js", bundle.page_script("passing.js", {
        "STYLE": named["passing.css"]}))
    showing = bundle.write_hashed(folder, "showing.js", bundle.page_script("showing.js", {}))
    runtime = {"release": release, "extras": extras, "toCome": later, "defaults": known, "passing": passing,
               "showing": showing, "installer": bundle.INSTALLER, "files": files,
               "worker": bundle.write_hashed(folder, "worker.js", worker),
               "packed": packed, "lockInfo": bundle.lock_info()}
    named |= {entry: bundle.write_hashed(folder, entry, bundle.page_script(entry, {})) for entry in bundle.FOR_SOME}
    for name in ("page.js", "paper.js"):
        script = bundle.write_hashed(folder, name, bundle.page_script(name, {"RUNTIME": runtime}))
        named["js" if name == "page.js" else "paper_js"] = script
    for name in SCRIPTS:
        # Pages whose script is another: what they do the planner need not carry.
        named[name] = bundle.write_hashed(folder, name, bundle.page_script(name, {"RUNTIME": runtime}))
    return {key: f"assets/{name}" for key, name in named.items() if name}


def manifest(named: dict[str, str]) -> bytes:
    """The web app manifest, with relative addresses only."""
    icons = [{"src": address, "sizes": "any" if address.endswith(".svg") else key.rsplit("-", 1)[-1].split(".")[0],
              "type": "image/svg+xml" if address.endswith(".svg") else "image/png"}
             for key, address in named.items() if "icon" in key and key != "icon"]
    return json.dumps({"name": "Raftwright", "short_name": "Raftwright", "start_url": "index.html", "scope": "./",
                       "display": "standalone", "background_color": "#f6f1e4", "theme_color": "#f6f1e4",
                       "icons": icons}, indent=1).encode("utf-8")


def build(folder: Path = DIST, guides_folder: Path | None = None) -> Made:
    """Build the whole site into ``folder``; it is replaced only when everything worked."""
    began = time.perf_counter()
    try:
        # A folder of this build's own: another build may be under way.
        fresh = Path(tempfile.mkdtemp(prefix=f"{folder.name}.new.", dir=folder.parent))
    except OSError as problem:
        raise Trouble(f"The folder {folder.parent} cannot be written to ({problem.strerror}). Give this user the right "
                      "to write there, then run this again.") from None
    try:
        fresh.chmod(0o755)
        count, release = fill(fresh, guides_folder)
        replace(folder, fresh)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    return Made(folder, count, time.perf_counter() - began, release)


def replace(folder: Path, fresh: Path) -> None:
    """Put a finished folder in the place of an older one, also while another build does the same: the last one wins."""
    for attempt in range(MOST_TRIES):
        old = fresh.with_name(f"{fresh.name}.old{attempt}")
        try:
            folder.rename(old)
        except FileNotFoundError:
            pass
        else:
            shutil.rmtree(old, ignore_errors=True)
        try:
            fresh.rename(folder)
            return
        except OSError as problem:
            if problem.errno not in (errno.ENOTEMPTY, errno.EEXIST) and not folder.exists():
                raise
    raise Trouble(f"{folder} is put in place by other builds again and again; let one end before you start another.")


def fill(fresh: Path, guides_folder: Path | None = None) -> tuple[int, str]:
    """Build the whole site into an empty folder; how many pages it has, and its release."""
    if str(ROOT) not in sys.path:
        sys.path.insert(0, str(ROOT))
    for name in bundle.calc_modules():
        # Every relation registers itself when its module is imported, whether or not a topic uses it yet.
        importlib.import_module(name)
    from calc.data.versions import VERSION
    from calc.plan import FIELDS, TABLES
    from calc.relations.base import RELATIONS
    from calc.render import formulas as calc_formulas
    from calc.plan import MADE_WITH, Plan
    from calc.render import living, miniature, sheets, sidebyside, signs, small
    from calc.solve import SPECS, solve
    from calc.topics import TOPICS
    from calc import overview, units

    mathml = formulas(RELATIONS)
    calc_formulas.load(mathml)
    example = solve(Plan({}))
    found = guides.read_all(guides_folder or guides.FOLDER, [topic.NAME for topic in TOPICS],
                            lambda text: living.html(text, example))
    release = tree_digest(ROOT / "calc", ROOT / "site_src", ROOT / "tests" / "references", PYPROJECT)

    named = assets(fresh / "assets", release, mathml, sheets.to_come(example))
    (fresh / "manifest.webmanifest").write_bytes(manifest(named))
    named["manifest"] = "manifest.webmanifest"

    environment = jinja2.Environment(loader=jinja2.FileSystemLoader(TEMPLATES), undefined=jinja2.StrictUndefined,
                                     autoescape=True,
                                     trim_blocks=True, lstrip_blocks=True)
    environment.filters["written"] = units.written
    environment.filters["mathml"] = lambda text: Markup(to_mathml(text))

    def calculator(guide: guides.Guide | None) -> str:
        if guide is None:
            return sheets.planner(example)
        return small.calculator(guide.topics, example, "../../", guide.asks, guide.answers)
    words = glossary.read()
    environment.filters["explained"] = lambda text, root: Markup(glossary.linked(str(text), words, root))
    rows = checked.rows()
    formula_groups = reference.grouped(RELATIONS.values())
    site_pages = [*pages(found, calculator, words), *formula_pages(formula_groups), *paper_pages(example),
                  files_page(example), club_page(),
                  *lesson_pages(),
                  *workings_pages(example)]
    drawn = miniature.draw(example)
    shared = {
        "glance": {"figures": overview.figures(example), "standings": overview.standings(example),
                   "drawing": Markup(drawn.svg if drawn else "")},
        "symbols": Markup(signs.symbols()), "made_with": MADE_WITH,
        "comparison": Markup(sidebyside.sheet(front.compared(example))),
        "front": front.home(example), "vessels": front.VESSELS, "papers": [one for one in site_pages if one.kind ==
                                                                             "paper"],
        "learn": [one for one in found if one.name in front.LEARN], **front.index(found, example),
        "assets": named, "release": release, "csp": POLICY, "version": version(), "guides": found, "glossary": words,
        "plan_version": VERSION,
        "relations": list(RELATIONS.values()), "mathml": {name: Markup(text) for name, text in mathml.items()},
        "fields": list(FIELDS.values()),
        "tables": list(TABLES.values()), "results": list(SPECS.values()), "topics": TOPICS, "units": units.KINDS,
        "api_parts": api_docs.parts(), "api_helps": api_docs.helps(), "relations_words": api_docs.relations_words(),
        "relation_groups": api_docs.relation_groups(),
        "calculator": lambda *names: Markup(small.calculator(names, example, "../")),
        "sheets": reference.SHEETS, "table_pages": reference.table_pages(), "formula_groups": formula_groups,
        "words_page": glossary.PAGE, "anchor_of": reference.anchor, "formula_address": reference.address,
        "check_kinds": checked.kinds(rows),
        "check_pictures": {name: Markup(drawn) for name, drawn in checked.pictures(rows).items()},
        "checks": checked.by_topic(rows), "checks_within": sum(row.within for row in rows), "check_count": len(rows),
        "builds": checked.builds(),
        "components": licences.components(), "archive": ARCHIVE,
    }
    searching = [page for page in site_pages if page.kind == "search"]
    for page in site_pages:
        if page not in searching:
            write_page(environment, fresh, page, site_pages, shared)
    # What can be found is read off the other pages as they stand.
    made = bundle.write_hashed(fresh / "assets", "finding.js", finding.asset(fresh, found, words))
    named["finding.js"] = f"assets/{made}"
    for page in searching:
        write_page(environment, fresh, page, site_pages, shared)
    finish(environment, fresh, site_pages, shared, release)
    return len(site_pages), release


def under(page: Page, entry: Page) -> bool:
    """Whether a page belongs to an entry of the menu; Log, Trouble and the rounds go with Today."""
    if page.path == entry.path or (entry.kind == "today" and page.kind in ("log", "trouble", "routine")):
        return True
    return entry.path != "index.html" and page.path.startswith(entry.path.removesuffix("index.html"))


def render(environment: jinja2.Environment, page: Page, site_pages: list[Page], shared: dict, **more) -> str:
    """One page as HTML; a mistake in a template names the page."""
    nav = [{"title": one.nav, "href": page.root + one.path, "path": one.path, "current": under(page, one)}
           for one in site_pages if one.nav]
    try:
        return environment.get_template(f"{page.kind}.html.j2").render(
            **{**shared, "packed": False, **page.more, "page": page, "root": page.root, "nav": nav,
               "content": Markup(page.content), "calc_html": Markup(page.calc_html), **more})
    except jinja2.TemplateError as problem:
        raise Trouble(f"The page {page.path} could not be made ({type(problem).__name__}: {problem}).") from None


def write_page(environment, folder: Path, page: Page, site_pages: list[Page], shared: dict) -> None:
    """Render a page into its file."""
    file = folder / page.path
    file.parent.mkdir(parents=True, exist_ok=True)
    html = render(environment, page, site_pages, shared)
    if page.kind not in UNEXPLAINED:
        html = glossary.in_prose(html, shared["glossary"], page.root)
    file.write_text(html, encoding="utf-8", newline="\n")


def finish(environment, folder: Path, site_pages: list[Page], shared: dict, release: str) -> None:
    """The service worker with its list, the file of the release, and the zip to take away."""
    listed = [(file.relative_to(folder).as_posix(), file.stat().st_size)
              for file in sorted(folder.rglob("*")) if file.is_file()]
    online = [entry for entry in listed if not entry[0].startswith(ONLY_ON_DISK)]
    (folder / "sw.js").write_bytes(bundle.page_script("sw.js", {"RELEASE_ID": release, "RELEASE_FILES": online}))
    (folder / "release.json").write_text(json.dumps({"release": release, "files": dict(listed)}, indent=1) + "\n",
                                         encoding="utf-8")
    (folder / "START-HERE.txt").write_text(START_HERE, encoding="utf-8", newline="\r\n")
    files = {f"raftwright/{file.relative_to(folder).as_posix()}": file.read_bytes()
             for file in sorted(folder.rglob("*")) if file.is_file()}
    # Inside the zip the page that offers the zip has none to offer.
    offline = next(page for page in site_pages if page.kind == "offline")
    files[f"raftwright/{offline.path}"] = render(environment, offline, site_pages, shared, packed=True).encode("utf-8")
    # The zip's own list of the release would name the page with the other text.
    files.pop("raftwright/release.json")
    (folder / ARCHIVE).write_bytes(bundle.archive(files, store=(".zip", ".woff2")))


def pack() -> Path:
    """Where the zip of the built site is; building writes it."""
    return DIST / ARCHIVE
