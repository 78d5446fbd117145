"""A reading plan as the text of its file, and back."""

import tomllib
from collections.abc import Mapping
from dataclasses import fields
from typing import Any

from scoring.errors import FixableError
from scoring.reading_plan.answers_to_questions import answers_written
from scoring.reading_plan.what_a_plan_says import Plan, PlannedColumn, PlannedTable, Query, Question

_ABOVE = """\
# A reading plan: how mount-risk reads these files. Check it, correct what is wrong, keep it.
#
# A value that begins with ? waits for the answer to the question of that key: write the answer
# there, or give it to the command: mount-risk reading-plan SOURCE --plan FILE --answer KEY=CHOICE.
# fills names columns of ours (mount-risk columns lists them); fills = [] leaves a column aside.
# because and certainty say where a proposal comes from: sure, likely, or asked.
# A word that no column names is read by the lists of `languages`; [] for none.
"""
_NAMED = {"table": PlannedTable, "question": Question, "query": Query}
_PLURAL = {"table": "tables", "question": "questions", "query": "queries"}


def plan_as_toml(plan: Plan) -> str:
    """Write a plan as text.

    Examples
    --------
    >>> plan = Plan((PlannedTable(("a.csv",), ("units",)),))
    >>> plan_from_toml(plan_as_toml(plan), "a") == plan
    True
    """
    lines = [_ABOVE, f"languages = {_written(plan.languages)}"]
    for question in plan.questions:
        lines += ["", "[[question]]", *_fields(question)]
    for query in plan.queries:
        lines += ["", "[[query]]", *_fields(query)]
    for table in plan.tables:
        lines += ["", "[[table]]", *_fields(table, without=("columns",))]
        for column in table.columns:
            lines += ["", "[[table.column]]", *_fields(column)]
    return "\n".join(lines) + "\n"


def plan_from_toml(text: str, name: str) -> Plan:
    """Read a plan from the text of its file; answers that stand there are put in their places.

    Raises
    ------
    FixableError
        If it is no TOML, or holds something that no plan has.
    """
    try:
        read = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FixableError(
            f"{name} is no readable plan ({error}); see README, Your own records"
        ) from None
    unknown = set(read) - {"languages", *_NAMED}
    if unknown:
        raise FixableError(
            f"{name}: a plan has no {min(unknown)!r}; it has languages, [[question]], "
            "[[query]] and [[table]]"
        )
    parts: dict[str, Any] = {"languages": tuple(read.get("languages", ()))}
    for key, plural in _PLURAL.items():
        listed = _list_of_tables(read.get(key, []), f"{name}: [[{key}]]")
        parts[plural] = tuple(_built(key, given, name) for given in listed)
    return answers_written(Plan(**parts))


def _built(key: str, given: Mapping[str, Any], name: str) -> Any:  # noqa: ANN401
    where = f"{name}: [[{key}]]"
    if key != "table":
        return _made(_NAMED[key], given, where)
    columns = _list_of_tables(given.get("column", []), f"{where} column")
    rest = {k: v for k, v in given.items() if k != "column"}
    made = tuple(_made(PlannedColumn, c, f"{name}: [[table.column]]") for c in columns)
    return _made(PlannedTable, rest | {"columns": made}, where)


def _list_of_tables(given: Any, where: str) -> list[Mapping[str, Any]]:  # noqa: ANN401
    if not isinstance(given, list) or not all(isinstance(one, dict) for one in given):
        raise FixableError(f"{where} stands in double brackets, with its lines below")
    return given


def _made(kind: Any, given: Mapping[str, Any], where: str) -> Any:  # noqa: ANN401
    known = {one.name: one for one in fields(kind)}
    for key, value in given.items():
        if key not in known:
            raise FixableError(f"{where} has no {key!r}; it has {', '.join(known)}")
        wanted = _type_name(known[key].type)
        if not isinstance(value, _TYPES[wanted]) or (wanted == "int" and isinstance(value, bool)):
            raise FixableError(f"{where}: {key} = {value!r} is not {_SAID[wanted]}")
        if wanted in ("tuple", "Mapping") and key != "columns":
            texts = value.values() if wanted == "Mapping" else value
            if not all(isinstance(text, str) for text in texts):
                raise FixableError(f"{where}: {key} = {value!r} holds what is no text in quotes")
    missing = [
        key for key in ("heading", "sources", "feeds", "key") if key in known and key not in given
    ]
    if missing:
        raise FixableError(f"{where} lacks {missing[0]}")
    tuples = {k: tuple(v) if isinstance(v, list) else v for k, v in given.items()}
    try:
        return kind(**tuples)
    except TypeError:
        raise FixableError(f"{where} lacks one of {', '.join(known)}") from None


def _type_name(kind: Any) -> str:  # noqa: ANN401
    """Return the bare name of what a field holds."""
    name = kind if isinstance(kind, str) else getattr(kind, "__name__", str(kind))
    return str(name).partition("[")[0]


_TYPES: dict[str, Any] = {
    "str": str, "int": int, "bool": bool, "tuple": (list, tuple), "Mapping": dict,
}  # fmt: skip
_SAID = {
    "str": "a text in quotes",
    "int": "a whole number",
    "bool": "true or false",
    "tuple": 'a list, as ["one", "two"]',
    "Mapping": 'a list of pairs, as { "found" = "meant" }',
}


def _fields(part: Any, without: tuple[str, ...] = ()) -> list[str]:  # noqa: ANN401
    """Write what differs from what is taken where nothing stands."""
    lines = []
    for one in fields(part):
        value = getattr(part, one.name)
        always = one.name in (
            "heading",
            "fills",
            "sources",
            "feeds",
            "heading_row",
            "key",
            "answer",
        )
        if one.name not in without and (always or (value != one.default and value not in ({}, ()))):
            lines.append(f"{one.name} = {_written(value)}")
    return lines


def _written(value: Any) -> str:  # noqa: ANN401
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{_quoted(k)} = {_quoted(v)}" for k, v in value.items())
        return "{ " + pairs + " }"
    return "[" + ", ".join(_quoted(one) for one in value) + "]"


def _quoted(text: str) -> str:
    r"""Return a text as TOML writes it.

    Examples
    --------
    >>> print(_quoted('3" shaft\n'))
    "3\" shaft\n"
    """
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    named = {"\n": "\\n", "\t": "\\t", "\r": "\\r"}
    return (
        '"'
        + "".join(
            named.get(c, f"\\u{ord(c):04x}" if ord(c) < 32 or ord(c) == 127 else c) for c in escaped
        )
        + '"'
    )
