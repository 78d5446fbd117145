"""``mount-risk reading-plan``: propose how your own files become the tables of the contract."""

from collections.abc import Iterable
from pathlib import Path

import click

from scoring.cli.screen import counted, err, say, warn
from scoring.files.grids import read_grids
from scoring.files.planned_records import PLAN_FILE, grids_of, read_plan, write_plan
from scoring.files.query_grid import read_query_grid
from scoring.reading_plan import Grid, Plan, answer, open_questions, propose
from scoring.reading_plan.several_plants import plant_and_place
from scoring.reading_plan.what_a_plan_says import Query


@click.command("reading-plan")
@click.argument("sources", metavar="SOURCE [SOURCE ...]", nargs=-1, required=True)
@click.option(
    "--out",
    type=click.Path(path_type=Path, dir_okay=False),
    default=None,
    help=f"Where the plan is written.  [the file of --plan, or {PLAN_FILE}]",
)
@click.option(
    "--plan",
    "before",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    default=None,
    metavar="FILE",
    help="A plan that is there already: only what it does not know is proposed or asked for.",
)
@click.option(
    "--answer",
    "answers",
    multiple=True,
    metavar="KEY=CHOICE",
    help="The answer to an open question; also column.HEADING=TABLE.COLUMN, unit.HEADING=UNIT, "
    "TABLE.COLUMN.WORD=WORD and feeds.SHEET=TABLE to correct a proposal.",
)
@click.option(
    "--query",
    "queries",
    multiple=True,
    metavar="NAME=SELECT ...",
    help="Where SOURCE is the address of a database: what to ask it, read only.",
)
@click.option(
    "--password-from",
    default="",
    metavar="VARIABLE",
    help="Variable of the environment that holds the password of the database.",
)
def reading_plan(  # noqa: PLR0913, PLR0917 - a command has the options it has
    sources: tuple[str, ...],
    out: Path | None,
    before: Path | None,
    answers: tuple[str, ...],
    queries: tuple[str, ...],
    password_from: str,
) -> None:
    """Propose how your own files are read: tables, columns, units, words, dates.

    SOURCE is a folder, a file (CSV, TSV, XLSX, ODS, Parquet) or the address of a database. The
    plan is a text file: check it, correct it, answer what it asks, then give it to any command as
    --plan, or keep it beside the records as reading-plan.toml.
    """
    plan = read_plan(before) if before else Plan()
    plan = _with_queries(plan, sources, queries, password_from)
    with err.status("reading"):
        grids = [grid for source in sources for grid in _grids(source, plan)]
    given = dict(_pair(text, "--answer") for text in answers)
    with err.status("looking"):
        plan = propose(grids, plan, given)
    plan = answer(plan, given)
    path = out or before or Path(PLAN_FILE)
    write_plan(plan, path)
    _tell(plan, path)


def _with_queries(
    plan: Plan, sources: Iterable[str], queries: tuple[str, ...], password_from: str
) -> Plan:
    addresses = [place for _, place in map(plant_and_place, sources) if "://" in place]
    if queries and len(addresses) != 1:
        raise click.UsageError("--query goes with one SOURCE that is the address of a database")
    if addresses and not queries and not plan.queries:
        raise click.UsageError("say what to ask the database: --query units='SELECT ...'")
    new = [
        Query(name, addresses[0], text, password_from)
        for name, text in (_pair(query, "--query") for query in queries)
    ]
    known = {query.name: query for query in (*plan.queries, *new)}
    return Plan(plan.tables, plan.questions, plan.languages, tuple(known.values()))


def _grids(source: str, plan: Plan) -> list[Grid]:
    _, place = plant_and_place(source)
    if "://" in place:
        return [read_query_grid(query) for query in plan.queries]
    if plan.tables:
        return grids_of(place, plan)
    return read_grids(Path(place))


def _pair(text: str, option: str) -> tuple[str, str]:
    key, mark, value = text.partition("=")
    if not mark:
        raise click.UsageError(f"{option} {text!r} has no =; write {option} KEY=VALUE")
    return key.strip(), value.strip()


def _tell(plan: Plan, path: Path) -> None:
    for table in plan.tables:
        name = table.sources[0] + (
            f" and {len(table.sources) - 1} more" if len(table.sources) > 1 else ""
        )
        if not table.feeds:
            say(f"{name}: left aside ({table.because})")
            continue
        read = [column for column in table.columns if column.fills]
        aside = [column.heading for column in table.columns if not column.fills]
        columns = f"{counted(len(read), 'column')} of {len(table.columns)}"
        say(f"{name}: {', '.join(table.feeds)}; {columns}")
        if aside:
            say(f"  left aside: {', '.join(aside)}")
    say(f"written to {path}")
    asked = open_questions(plan)
    for question in asked:
        free = ", or your own text" if question.free else ""
        warn(f"open: {question.asks}")
        warn(f'  --answer "{question.key}=..." one of: {"; ".join(question.choices)}{free}')
    if asked:
        warn(f"{counted(len(asked), 'question')} open; nothing is read before they are answered")
    else:
        warn(f"Check the plan, then: mount-risk check SOURCE --plan {path}")
