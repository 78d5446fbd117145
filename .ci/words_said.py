"""Find the words of the screens in their sources, and bring the catalogues up to date.

``python .ci/words_said.py`` adds to each catalogue what is missing, with nothing said yet, and
takes out what no source says any more. A message that no sweep can see, such as one made of parts,
is written by hand and marked ``shown`` in a comment of the translator; it stays.
"""

import ast
import re
import sys
from collections.abc import Iterator
from io import BytesIO
from itertools import product
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from scoring.contract import FLEET_TABLES, RANKING
from scoring.contract.rework import ACTIONS
from scoring.language.pattern import GAP
from scoring.language.tell import in_its_edges

ROOT = Path(__file__).resolve().parents[1]
LANGUAGE = ROOT / "scoring" / "language"
SPEAKING = (
    "dashboard",
    "scoring/access",
    "scoring/assessment",
    "scoring/consequences",
    "scoring/contract",
    "scoring/drawing",
    "scoring/entering",
    "scoring/explanation",
    "scoring/handbook",
    "scoring/intake",
    "scoring/limits",
    "scoring/looking",
    "scoring/mechanics",
    "scoring/planning",
    "scoring/reading_plan",
    "scoring/risk",
    "scoring/rules",
    "scoring/sheets",
    "scoring/store/address.py",
    "scoring/store/connections.py",
    "scoring/store/one_writer.py",
    "scoring/store/open_store.py",
    "scoring/store/patient_connection.py",
    "scoring/store/put_records.py",
    "scoring/store/read_store.py",
    "scoring/store/said_by_the_database.py",
    "scoring/store/same_store.py",
    "scoring/store/schema_version.py",
    "scoring/store/whole_text.py",
    "scoring/store/writing.py",
    "scoring/timeline",
    "scoring/trends",
    "scoring/validation",
    "scoring/walkdown_form",
    "scoring/what_if",
)
"""Where words of screens, form and sheets are written."""
SILENT = frozenset(
    {
        "dashboard/appearance.py",
        "dashboard/health.py",
        "dashboard/serve_pages.py",
        "dashboard/guard/answer_headers.py",
        "dashboard/guard/around_the_app.py",
        "dashboard/guard/refused_requests.py",
        "scoring/drawing/svg.py",
        "scoring/drawing/look_tokens.py",
        "scoring/reading_plan/units_of_measure.py",
        "scoring/access/grants.py",
        "scoring/access/login_settings.py",
    }
)
"""Style sheets, marks of a picture, what commands alone say, and plain lines to whoever did not
get as far as a page."""
HEADER = """msgid ""
msgstr ""
"Language: {}\\n"
"Content-Type: text/plain; charset=utf-8\\n"

"""
SHOWN = "shown"
"""Comment of a message that stays though no sweep finds it."""
WORDS_OF_CALLS = frozenset(
    {
        "label",
        "does",
        "good",
        "how_to_look",
        "words",
        "title",
        "help",
        "name",
        "unit",
        "meaning",
        "placeholder",
    }
)
"""Arguments that are words even where they are a single one."""

_TAG = re.compile(r"<[^<>]*>|\*\*|\n\n|`[^`]*`|\]\([^)]*\)|(?<!\\)\[")
NO_PROSE = re.compile(
    r'="|^%s|prefers-color|sans-serif|^--|\?\{|^data:|^http|^walkdown/|--[a-z]+:|\bvar\(|\bstyle='
    r"|^default-src|-src |^form-action|frame-ancestors"
)
"""What stands in addresses, style sheets and markup."""
_PROSE = re.compile(r"[a-z]{2}")


def messages() -> dict[str, list[str]]:
    """Return each message with the files that say it."""
    found: dict[str, list[str]] = {}
    for place in SPEAKING:
        for file in sorted([ROOT / place] if place.endswith(".py") else (ROOT / place).rglob("*")):
            if str(file.relative_to(ROOT)) in SILENT:
                continue
            sweep = {".py": of_python, ".js": of_script, ".html": of_template}.get(file.suffix)
            if sweep is None:
                continue
            for text in sweep(file.read_text(encoding="utf-8")):
                for message in as_messages(text):
                    where = str(file.relative_to(ROOT))
                    if where not in found.setdefault(message, []):
                        found[message].append(where)
    for text, where in of_contract():
        found.setdefault(text, []).append(where)
    return found


def of_contract() -> Iterator[tuple[str, str]]:
    """Return the words of the records as a person reads them: of columns, checks and actions."""
    said = {
        word: "scoring/contract/__init__.py"
        for table in (*FLEET_TABLES, RANKING)
        for column in table.columns
        for word in (column.name, *column.allowed)
    } | {action.name: "scoring/contract/action.py" for action in ACTIONS}
    for word, where in sorted(said.items()):
        if _PROSE.search(word):
            yield word.replace("_", " "), where


def as_messages(text: str) -> Iterator[str]:
    """Take a text apart at tags, and leave out what is no prose."""
    for part in _TAG.split(text):
        _, core, _ = in_its_edges(" ".join(part.split()))
        said = GAP.sub("", core)
        if NO_PROSE.search(core) or re.search(r"[{}]|\w_\w", said) or not _PROSE.search(said):
            continue
        yield core


def of_python(source: str) -> Iterator[str]:
    """Return the texts that a Python file writes: literals, and sentences with gaps."""
    tree = ast.parse(source)
    skipped = {id(node) for node in _not_said(tree)}
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr):
            yield from with_gaps(node)
        elif (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and " " in node.value.strip()
        ):
            yield node.value
        elif isinstance(node, ast.Call):
            yield from (
                one.value.value
                for one in node.keywords
                if one.arg in WORDS_OF_CALLS
                and isinstance(one.value, ast.Constant)
                and isinstance(one.value.value, str)
            )
            if (isinstance(node.func, ast.Name) and node.func.id[:1].isupper()) or getattr(
                node.func, "attr", ""
            ) in SHOWING:
                yield from (
                    one.value
                    for one in node.args
                    if isinstance(one, ast.Constant) and isinstance(one.value, str)
                )


SHOWING = frozenset(
    {
        "title", "header", "subheader", "markdown", "text", "caption", "expander", "metric",
        "number_input", "selectbox", "multiselect", "radio", "checkbox", "toggle", "button",
        "download_button", "info", "warning",
    }
)  # fmt: skip


def _not_said(tree: ast.Module) -> Iterator[ast.AST]:
    """Return what no person reads: docstrings, annotations, parts of a sentence, patterns."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield node.value
        elif isinstance(node, ast.JoinedStr):
            yield from (part for part in node.values)
        elif (
            isinstance(node, ast.Call)
            and ast.unparse(node.func)
            in {
                "re.compile",
                "text",
                "sa.text",
                "re.sub",
            }
        ) or (isinstance(node, ast.Raise) and "AssertionError" in ast.unparse(node)):
            yield from ast.walk(node)
        elif isinstance(node, (ast.AnnAssign, ast.arg)) and node.annotation is not None:
            yield from ast.walk(node.annotation)
        elif isinstance(node, ast.FunctionDef) and node.returns is not None:
            yield from ast.walk(node.returns)


def with_gaps(node: ast.JoinedStr) -> Iterator[str]:
    """Write a sentence with what is filled in as a gap with a name.

    Where one of two words is filled in, as in a plural, there are two sentences.
    """
    choices: list[tuple[str, ...]] = []
    taken: set[str] = set()
    for part in node.values:
        if isinstance(part, ast.Constant):
            choices.append((str(part.value).replace("{", "{{"),))
        elif isinstance(part, ast.FormattedValue):
            choices.append(_either(part.value) or (f"{{{_gap(ast.unparse(part.value), taken)}}}",))
    yield from ("".join(parts) for parts in product(*choices))


def _either(value: ast.expr) -> tuple[str, ...]:
    """Return the two words of which one is filled in; nothing where it is something else."""
    if not isinstance(value, ast.IfExp):
        return ()
    words = [one.value for one in (value.body, value.orelse) if isinstance(one, ast.Constant)]
    return tuple(str(word) for word in words) if len(words) == 2 else ()


def _gap(expression: str, taken: set[str]) -> str:
    """Name a gap after the last word of what fills it."""
    said = [
        word
        for word in re.findall(r"[a-z][a-z0-9_]*", expression)
        if word not in {"plain", "self", "str", "float", "int"}
    ]
    name = said[0] if said else "n"
    name = said[-1] if "." in expression and said and "(" not in expression else name
    unique, count = name, 1
    while unique in taken:
        count += 1
        unique = f"{name}{count}"
    taken.add(unique)
    return unique


def of_script(source: str) -> Iterator[str]:
    """Return the texts that a script of the form writes."""
    code = re.sub(r"^\s*//.*$", "", source, flags=re.MULTILINE)
    for text in re.findall(r'"((?:[^"\\\n]|\\.)*)"', code):
        if " " in text.strip() or text[:1].isupper():
            yield text
    for text in re.findall(r"`((?:[^`\\]|\\.)*)`", code):
        taken: set[str] = set()
        yield re.sub(r"\$\{([^{}]*)\}", lambda gap: f"{{{_gap(gap[1], taken)}}}", text)  # noqa: B023 - used at once


def of_template(source: str) -> Iterator[str]:
    """Return the texts that a plain page writes."""
    page = re.sub(r"<(style|script)\b.*?</\1>|<!--.*?-->", "\n\n", source, flags=re.DOTALL)
    for said in re.findall(r'(?:aria-label|placeholder|title)="([^"]*)"', page):
        yield _template_gaps(said)
    yield from re.findall(r'\{[{%][^}]*?"([^"]+)"[^}]*?[%}]\}', page)
    yield _template_gaps(re.sub(r"\{%.*?%\}", "<>", page, flags=re.DOTALL))


def _template_gaps(text: str) -> str:
    taken: set[str] = set()
    return re.sub(r"\{\{(.*?)\}\}", lambda gap: f"{{{_gap(gap[1], taken)}}}", text, flags=re.DOTALL)


def brought_up_to_date(kept: Catalog, said: dict[str, list[str]]) -> Catalog:
    """Return a catalogue with all that is said now, what was translated kept."""
    fresh = Catalog(locale=kept.locale, fuzzy=False)
    fresh.header_comment = ""
    for message in kept:
        if message.id and SHOWN in message.auto_comments + message.user_comments:
            fresh.add(message.id, message.string, user_comments=message.user_comments)
    for text, files in sorted(said.items()):
        had = kept.get(text)
        fresh.add(text, had.string if had else "", locations=[(file, 1) for file in files])
    return fresh


def main() -> int:
    """Bring each catalogue up to date; return how many messages wait for a translator."""
    said, waiting = messages(), 0
    for file in sorted(LANGUAGE.glob("*.po")):
        with file.open("rb") as opened:
            kept = read_po(opened)
        fresh = brought_up_to_date(kept, said)
        waiting += sum(1 for one in fresh if one.id and not one.string)
        written = BytesIO()
        write_po(
            written, fresh, width=100, sort_output=True, omit_header=True, include_lineno=False
        )
        file.write_text(HEADER.format(kept.locale) + written.getvalue().decode(), encoding="utf-8")
        sys.stdout.write(f"{file.name}: {len(fresh)} messages, {waiting} without a translation\n")
    return waiting


if __name__ == "__main__":
    sys.exit(min(main(), 1))
