"""What a declaration still lacks, each said in a sentence with what to add and where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calc.declare import Field, Table, Topic
    from calc.relations.base import Relation

LEAST_ROWS = 2


def counted_rows(relations: Mapping[str, Relation], rows: Iterable[Mapping]) -> Counter[str]:
    """How many check rows of each relation prove something: those made outside the project.

    A definition is its own authority, and a rule of thumb can only be checked against how it is said.
    """
    from calc.relations.base import PRACTICE, STANDARD
    from tests import references
    counts: Counter[str] = Counter()
    for row in rows:
        relation = relations.get(row["relation"])
        by_itself = relation and (row["kind"], relation.status) in (("definition", STANDARD), ("practice", PRACTICE))
        if row["kind"] in references.COUNTED or by_itself:
            counts[row["relation"]] += 1
    return counts


def of_relations(relations: Mapping[str, Relation], rows: Sequence[Mapping]) -> list[str]:
    """Relations without check values enough, rows of no relation, and what a reader would miss."""
    counts = counted_rows(relations, rows)
    wrong = []
    for name, one in relations.items():
        file = f"tests/references/{name.split('.')[0]}.csv"
        if counts[name] < LEAST_ROWS:
            arguments = "; ".join(f"{argument}=..." for argument in one.symbols)
            wrong.append(f"The relation {name} has {counts[name]} check rows that count and needs {LEAST_ROWS}: add "
                         f"rows to {file} with values from outside the project (kind published or library), inputs "
                         f"{arguments}.")
        missing = [part for part in ("title", "formula", "valid", "source") if not getattr(one, part)]
        missing += [] if (one.function.__doc__ or "").strip() else ["docstring"]
        if missing:
            wrong.append(f"The relation {name} lacks {', '.join(missing)}: add it in calc/relations/"
                         f"{name.split('.')[0]}.py.")
    wrong += [f"{file}: there is no relation {name}; mend the name in the column relation, or take the row out."
              for file, name in dict.fromkeys((row["file"], row["relation"]) for row in rows) if name not in relations]
    return wrong


def _of_question(one: Field | Table, filled: bool) -> list[str]:
    if filled and not one.why:
        return [f'The question {one.key} has a default and no why: add why="where the default comes from" to its '
                f"{type(one).__name__} in calc/topics/."]
    return []


def of_topics(topics: Iterable[Topic]) -> list[str]:
    """Topics that lack a part, questions whose default nobody explains, and keys that stand twice."""
    from calc.declare import check_topic
    from calc.errors import Incomplete
    wrong: list[str] = []
    keys: Counter[tuple[str, str]] = Counter()
    for topic in topics:
        try:
            check_topic(topic)
        except Incomplete as lack:
            wrong.append(str(lack))
            continue
        for field in topic.FIELDS:
            wrong += _of_question(field, field.default != ("", ""))
        for table in topic.TABLES:
            wrong += _of_question(table, bool(table.rows))
        keys.update(("question", one.key) for one in (*topic.FIELDS, *topic.TABLES))
        keys.update(("answer", one.key) for one in topic.RESULTS)
    return wrong + [f"The key {key} is declared for {count} {kind}s: give each a key of its own."
                    for (kind, key), count in keys.items() if count > 1]
