"""Whatever is wrong in the head of a guide stops the build: all said at once, with the file, and nothing touched."""

from __future__ import annotations

import pytest
from tools import guides, setup, site

import build
from calc.topics import TOPICS

KNOWN = [topic.NAME for topic in TOPICS]
GOOD = {"title": "A", "summary": "s", "promise": "p.", "at": "water", "topics": "water"}
PLACES = ", ".join(guides.PLACES)
BODY = "Answer first.\n\n{{ calculator }}\n\nThen the theory.\n"


def guide(body: str = BODY, **changes: str | None) -> str:
    """A good guide with changes in its head; ``None`` takes a line out."""
    head = {**GOOD, **changes}
    return "---\n" + "".join(f"{key}: {text}\n" for key, text in head.items() if text is not None) + "---\n" + body


def ordered(folder, *names: str) -> None:
    """The file that says the order of guides."""
    listed = ", ".join(f'"{name}"' for name in names)
    (folder / guides.ORDER).write_text(f'[[part]]\ntitle = "Build it"\nguides = [{listed}]\n', encoding="utf-8")


def wrong(folder, **texts: str) -> list[str]:
    """What is told of these files, line by line."""
    for name, text in texts.items():
        (folder / f"{name}.md").write_text(text, encoding="utf-8")
    ordered(folder, *texts)
    with pytest.raises(setup.Trouble) as told:
        guides.read_all(folder, KNOWN)
    first, *lines = str(told.value).split("\n")
    assert first == "The guides need mending:"
    return lines


@pytest.mark.parametrize(("text", "sentence"), [
    ("# no head\n", "it must begin with front matter between two lines of ---."),
    (guide(title=None), "front matter lacks title."),
    (guide(title=""), "front matter lacks title."),
    (guide(summary=None), "front matter lacks summary."),
    (guide(promise=None), "front matter lacks promise."),
    (guide(promise="long " * 13), "promise has at most 60 characters, for one line of the list of guides."),
    (guide(at=None), f"front matter lacks at; it is one of: {PLACES}."),
    (guide(at="sky"), f"there is no place sky; at is one of: {PLACES}."),
    (guide(number="air.none"), "number names air.none, and there is no such result."),
    (guide(topics="water, watr"), f"there is no topic watr; topics are any of: {', '.join(KNOWN)}."),
    (guide(colour="red"), "front matter knows title, summary, promise, at, number, topics, asks, answers; this line "
                          "is none of them: colour: red."),
    (guide().replace("---\n", "---\ntitle: B\n", 1), "title stands in the front matter twice; keep one."),
    (guide("No place.\n"), "it has topics, so one line {{ calculator }} must say where their calculator goes; there "
                           "is none."),
    (guide(BODY + BODY), "it has topics, so one line {{ calculator }} must say where their calculator goes; there "
                         "are 2."),
    (guide("See {{ calculator }} here.\n"), "{{ calculator }} must stand on a line of its own."),
    (guide(topics=None), "{{ calculator }} has nothing to ask: add topics to the front matter, or take that line out."),
])
def test_a_bad_head_is_told_with_its_file(tmp_path, text, sentence):
    assert wrong(tmp_path, bad=text) == [f"bad.md: {sentence}"]


def test_everything_wrong_is_told_at_once(tmp_path):
    told = wrong(tmp_path, a=guide(title=None, at="nowhere"), b=guide(topics="nothing"), c=guide(summary=None))
    assert [line.split(":")[0] for line in told] == ["a.md", "a.md", "b.md", "c.md"]


@pytest.mark.parametrize(("text", "sentence"), [
    (None, "order.toml: it must name all guides in their order, as [[part]] with title and guides."),
    ("guides = 3\n", "order.toml: it must name all guides in their order, as [[part]] with title and guides."),
    ('[[part]]\ntitle = "B"\nguides = ["a", "a"]\n', "order.toml: a stands in it twice; keep one."),
    ('[[part]]\ntitle = "B"\nguides = ["a", "b"]\n', "order.toml: it names b, and there is no b.md."),
    ('[[part]]\ntitle = "B"\nguides = ["b"]\n', "a.md: order.toml does not name it; give it a place there."),
])
def test_a_bad_order_is_told(tmp_path, text, sentence):
    (tmp_path / "a.md").write_text(guide(), encoding="utf-8")
    if text is not None:
        (tmp_path / guides.ORDER).write_text(text, encoding="utf-8")
    with pytest.raises(setup.Trouble) as told:
        guides.read_all(tmp_path, KNOWN)
    assert sentence in str(told.value).split("\n")


def test_the_time_to_read_counts_words_and_no_pictures(tmp_path):
    ordered(tmp_path, "a")
    (tmp_path / "a.md").write_text(guide(BODY + "word " * 500 + "\n\n<svg>" + "x " * 900 + "</svg>\n"),
                                   encoding="utf-8")
    assert guides.read_all(tmp_path, KNOWN)[0].minutes == 3


def test_good_guides_come_in_their_order(tmp_path):
    (tmp_path / "z.md").write_text(guide(), encoding="utf-8")
    (tmp_path / "a.md").write_text(guide("Words.\n", topics=None), encoding="utf-8")
    ordered(tmp_path, "z", "a")
    first, second = guides.read_all(tmp_path, KNOWN)
    assert (first.name, first.topics, second.name, second.topics) == ("z", ("water",), "a", ())
    assert (first.order, second.order, first.part) == (1, 2, "Build it")
    assert guides.CALCULATOR in first.html


def test_a_bad_guide_leaves_the_built_folder_alone_and_ends_with_1(tmp_path, monkeypatch, capsys):
    heads, old = tmp_path / "guides", tmp_path / "dist"
    heads.mkdir()
    old.mkdir()
    (old / "index.html").write_text("as it was", encoding="utf-8")
    (heads / "one.md").write_text(guide(at="nowhere"), encoding="utf-8")
    (heads / "two.md").write_text(guide(topics="nothing"), encoding="utf-8")
    making = site.build
    monkeypatch.setattr(site, "build", lambda: making(old, heads))
    assert build.main(["build", "--inside"]) == 1
    said = capsys.readouterr().err
    assert "one.md: there is no place nowhere" in said and "two.md: there is no topic nothing" in said
    assert [file.name for file in tmp_path.rglob("*") if file.is_file() and file.suffix == ".html"] == ["index.html"]
    assert (old / "index.html").read_text(encoding="utf-8") == "as it was"
    assert not (tmp_path / "dist.new").exists()
