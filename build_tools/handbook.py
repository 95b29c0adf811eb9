"""The checked model of everything under content/ and calculators/: one load, one list of problems."""

from __future__ import annotations

import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from build_tools import checks, likelihoods
from build_tools.loading import DRAFT, Located, Unreadable, line_of, load_front_matter, load_toml, load_yaml
from build_tools.problems import Problem, report
from build_tools.prose import Heading, Line, embeds, headings, read_lines
from build_tools.references import References, load_references

# The folder of each kind; an article may lie anywhere.
FOLDERS = {"step": "examination", "finding": "findings", "condition": "conditions", "calculators": "calculators"}
STRENGTHS = ("strong", "moderate", "weak", "little", "taught")
LEDGER = "content/second_reads.toml"
SETTINGS = "mkdocs.yml"


@dataclass
class Page:
    """One Markdown page: id as "findings/collapsing-pulse", front matter with its lines, and the body."""

    id: str
    kind: str
    path: Path
    meta: dict[str, Any]
    lines: dict[tuple[Any, ...], int]
    body: str
    body_line: int

    @property
    def slug(self) -> str:
        return self.id.rpartition("/")[2]

    @property
    def file(self) -> str:
        return f"content/{self.id}.md"

    @property
    def title(self) -> str:
        return str(self.meta.get("title", self.slug))

    @property
    def is_draft(self) -> bool:
        """Whether it is there for those who write alone."""
        return self.meta.get("status") == DRAFT

    def line(self, *path: Any) -> int:
        return line_of(self.lines, path)

    @cached_property
    def prose(self) -> list[Line]:
        """The lines of the body."""
        return read_lines(self.body, self.body_line)

    @cached_property
    def headings(self) -> list[Heading]:
        """The headings of the body."""
        return headings(self.prose)

    @cached_property
    def embeds(self) -> list[tuple[int, str, str]]:
        """Line, kind and argument of each fenced block that something is made from."""
        return embeds(self.prose)

    @cached_property
    def anchors(self) -> set[str]:
        """The ids on the page that a link may lead to."""
        return {heading.id for heading in self.headings}

    def listed(self, key: str) -> list[Any]:
        """Return a list of the front matter, empty when it is missing or of another type."""
        found = self.meta.get(key)
        return found if isinstance(found, list) else []


@dataclass
class Sheet:
    """One calculator's sheet: id as "mean_arterial_pressure", its data with their lines."""

    id: str
    path: Path
    data: dict[str, Any]
    lines: dict[tuple[Any, ...], int]

    @property
    def file(self) -> str:
        return f"calculators/{self.id}/sheet.toml"

    @property
    def is_draft(self) -> bool:
        """Whether it is there for those who write alone."""
        return self.data.get("status") == DRAFT


@dataclass
class Model:
    """The data of one model: id as "heart_sounds", what stands in its file of calculators/models with its lines."""

    id: str
    data: dict[str, Any]
    lines: dict[tuple[Any, ...], int]

    @property
    def file(self) -> str:
        return f"calculators/models/{self.id}.toml"

    def sourced(self) -> Iterator[tuple[tuple[Any, ...], dict[str, Any]]]:
        """Yield path and row of everything that says in `source` what it rests on."""
        yield from _sourced(self.data, ())


@dataclass
class Row:
    """Where a row of a data file stands."""

    file: str
    lines: dict[tuple[Any, ...], int]
    path: tuple[Any, ...]

    def line(self, *path: Any) -> int:
        return line_of(self.lines, (*self.path, *path))


@dataclass
class Handbook:
    """Everything the site is made of. `rows` says where each value, table, red flag and caption was written:
    rows[("values", "radial-pulse-adult")]. `navigation` holds page ids with their lines, in order."""

    root: Path
    pages: dict[str, Page] = field(default_factory=dict)
    sheets: dict[str, Sheet] = field(default_factory=dict)
    models: dict[str, Model] = field(default_factory=dict)
    values: dict[str, dict[str, Any]] = field(default_factory=dict)
    tables: dict[str, dict[str, Any]] = field(default_factory=dict)
    red_flags: dict[str, dict[str, Any]] = field(default_factory=dict)
    captions: dict[str, dict[str, Any]] = field(default_factory=dict)
    rows: dict[tuple[str, str], Row] = field(default_factory=dict)
    references: References = field(default_factory=References)
    reads: list[dict[str, Any]] = field(default_factory=list)
    read_lines: dict[tuple[Any, ...], int] = field(default_factory=dict)
    navigation: dict[str, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def of_kind(self, kind: str) -> list[Page]:
        """Return the pages of a kind, steps in bedside order, others by title."""
        return self._kinds.get(kind, [])

    def page(self, kind: str, slug: str) -> Page | None:
        """Return the page of a kind by its slug, or None."""
        page = self.pages.get(f"{FOLDERS[kind]}/{slug}")
        return page if page and page.kind == kind else None

    def signs_of(self, condition: str) -> list[tuple[Page, dict[str, Any]]]:
        """Return the findings that point to or away from a condition, strongest first, with their entries."""
        return self._signs.get(condition, [])

    def steps_of(self, finding: str) -> list[Page]:
        """Return the steps in which a finding is looked for, in bedside order."""
        return self._steps_of_findings.get(finding, [])

    def pages_of_calculator(self, calculator: str) -> list[Page]:
        """Return the pages of calculators that hold a calculator."""
        return self._pages_of_calculators.get(calculator, [])

    def measured_on(self, calculator: str) -> list[Page]:
        """Return the steps, findings and conditions that name a calculator under `measures`."""
        return self._measured.get(calculator, [])

    @cached_property
    def _kinds(self) -> dict[str, list[Page]]:
        kinds: dict[str, list[Page]] = defaultdict(list)
        for page in self.pages.values():
            kinds[page.kind].append(page)
        for kind, pages in kinds.items():
            if kind == "step":
                pages.sort(key=lambda page: (_number(page.meta.get("order")), page.id))
            else:
                pages.sort(key=lambda page: (page.title.casefold(), page.id))
        return dict(kinds)

    @cached_property
    def _signs(self) -> dict[str, list[tuple[Page, dict[str, Any]]]]:
        signs: dict[str, list[tuple[Page, dict[str, Any]]]] = defaultdict(list)
        for page in self.of_kind("finding"):
            for entry in page.listed("points_to"):
                if isinstance(entry, dict):
                    signs[str(entry.get("condition"))].append((page, entry))
        for entries in signs.values():
            entries.sort(key=lambda pair: (pair[1].get("direction") != "for", _rank(pair[1]), _ratio(pair[1])))
        return dict(signs)

    @cached_property
    def _steps_of_findings(self) -> dict[str, list[Page]]:
        steps: dict[str, list[Page]] = defaultdict(list)
        for page in self.of_kind("step"):
            for slug in page.listed("findings"):
                steps[slug].append(page)
        return dict(steps)

    @cached_property
    def _pages_of_calculators(self) -> dict[str, list[Page]]:
        found: dict[str, list[Page]] = defaultdict(list)
        for page in self.of_kind("calculators"):
            for calculator in page.listed("calculators"):
                found[calculator].append(page)
        return dict(found)

    @cached_property
    def _measured(self) -> dict[str, list[Page]]:
        found: dict[str, list[Page]] = defaultdict(list)
        for kind in ("step", "finding", "condition"):
            for page in self.of_kind(kind):
                for calculator in page.listed("measures"):
                    found[calculator].append(page)
        return dict(found)


def _number(value: Any) -> float:
    return float(value) if isinstance(value, (int, float)) else 0.0


def _rank(entry: dict[str, Any]) -> int:
    strength = entry.get("strength")
    return STRENGTHS.index(strength) if strength in STRENGTHS else len(STRENGTHS)


def _ratio(entry: dict[str, Any]) -> float:
    """Return a sort key that puts the ratio farthest from 1 first."""
    if entry.get("direction") == "for":
        return -_number(entry.get("lr_pos"))
    return _number(entry.get("lr_neg", entry.get("lr_pos", 1)))


def load(root: Path, unread_ok: bool = False, drafts: bool = False) -> Handbook:
    """Load and check everything below the root. Faults of the content become problems, never exceptions.

    With `unread_ok` numbers that no second reader has signed are not counted as problems. With `drafts` the
    calculators and pages that say `status: draft` are loaded too: without it they are not there, so that nothing
    can be built or counted with one.
    """
    root = Path(root)
    handbook = Handbook(root, references=load_references(root))
    handbook.problems.extend(handbook.references.problems)
    _load_pages(handbook, drafts)
    _load_sheets(handbook, drafts)
    _load_models(handbook)
    _load_values(handbook)
    _load_list(handbook, "content/red_flags.toml", "red_flags", handbook.red_flags)
    _load_list(handbook, "content/figures.toml", "captions", handbook.captions)
    _load_ledger(handbook)
    _load_navigation(handbook)
    likelihoods.fill(handbook)
    handbook.problems.extend(checks.run(handbook, unread_ok))
    handbook.problems = sorted(set(handbook.problems))
    return handbook


def _sourced(node: Any, path: tuple[Any, ...]) -> Iterator[tuple[tuple[Any, ...], dict[str, Any]]]:
    if isinstance(node, dict):
        if "source" in node:
            yield path, node
        for key, value in node.items():
            yield from _sourced(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from _sourced(value, (*path, index))


def load_sheets(root: Path, name: str | None = None) -> Handbook:
    """Load the calculators with the works they cite, and nothing else: what answering needs, in half the time.

    Nothing is checked. name: of the one to be asked, whose choices may stand on the findings' pages.
    """
    handbook = Handbook(Path(root), references=load_references(Path(root)))
    _load_sheets(handbook, drafts=False)
    if name in handbook.sheets and likelihoods.asked_for(handbook.sheets[name].data):
        _load_pages(handbook, drafts=False)
        likelihoods.fill(handbook)
    return handbook


def _fault(handbook: Handbook, file: str, fault: Unreadable) -> None:
    handbook.problems.append(Problem(file, fault.line, fault.message, fault.mend))


def _load_pages(handbook: Handbook, drafts: bool) -> None:
    content = handbook.root / "content"
    for path in sorted(content.rglob("*.md")):
        page_id = path.relative_to(content).with_suffix("").as_posix()
        try:
            located, body, body_line = load_front_matter(path)
        except Unreadable as fault:
            _fault(handbook, f"content/{page_id}.md", fault)
            continue
        if located.data.get("status") == DRAFT and not drafts:
            continue
        kind = located.data.get("kind")
        handbook.pages[page_id] = Page(
            page_id, kind if isinstance(kind, str) else "", path, located.data, located.lines, body, body_line
        )


def _load_toml(handbook: Handbook, file: str) -> Located | None:
    try:
        return load_toml(handbook.root / file)
    except FileNotFoundError:
        return None
    except Unreadable as fault:
        _fault(handbook, file, fault)
        return None


def _load_sheets(handbook: Handbook, drafts: bool) -> None:
    for path in sorted((handbook.root / "calculators").glob("*/sheet.toml")):
        file = path.relative_to(handbook.root).as_posix()
        if (located := _load_toml(handbook, file)) and (drafts or located.data.get("status") != DRAFT):
            handbook.sheets[path.parent.name] = Sheet(path.parent.name, path, located.data, located.lines)


def _load_models(handbook: Handbook) -> None:
    for path in sorted((handbook.root / "calculators" / "models").glob("*.toml")):
        if located := _load_toml(handbook, path.relative_to(handbook.root).as_posix()):
            handbook.models[path.stem] = Model(path.stem, located.data, located.lines)


def _load_values(handbook: Handbook) -> None:
    for path in sorted((handbook.root / "content" / "values").glob("*.toml")):
        file = path.relative_to(handbook.root).as_posix()
        _load_list(handbook, file, "values", handbook.values, "tables", handbook.tables)


def _load_list(handbook: Handbook, file: str, *names_and_targets: Any) -> None:
    """Load the arrays of a data file into dicts by id: name, target, name, target."""
    located = _load_toml(handbook, file)
    if not located:
        return
    handbook.problems.extend(checks.schema.problems_of_file(file, located))
    for name, target in zip(names_and_targets[::2], names_and_targets[1::2], strict=True):
        rows = located.data.get(name)
        for index, row in enumerate(rows if isinstance(rows, list) else []):
            if not isinstance(row, dict) or not isinstance(row.get("id"), str):
                continue  # the schema check has told it
            place = Row(file, located.lines, (name, index))
            if row["id"] in target:
                first = handbook.rows[(name, row["id"])]
                handbook.problems.append(
                    Problem(
                        file,
                        place.line("id"),
                        f'the id "{row["id"]}" is there already, in {first.file}:{first.line("id")}',
                        "use the row that is there, or choose another id",
                    )
                )
                continue
            target[row["id"]] = row
            handbook.rows[(name, row["id"])] = place


def _load_ledger(handbook: Handbook) -> None:
    if located := _load_toml(handbook, LEDGER):
        handbook.problems.extend(checks.schema.problems_of_file(LEDGER, located))
        reads = located.data.get("reads")
        handbook.reads = [read for read in reads if isinstance(read, dict)] if isinstance(reads, list) else []
        handbook.read_lines = located.lines


def _load_navigation(handbook: Handbook) -> None:
    """Read the page ids under `nav` of mkdocs.yml with their lines."""
    path = handbook.root / SETTINGS
    if not path.exists():
        return
    text = path.read_text(encoding="utf-8")
    start = next((index for index, line in enumerate(text.splitlines()) if line.startswith("nav:")), None)
    if start is None:
        return
    # Only this block is read: the rest of the file may hold tags that only MkDocs knows.
    block = [text.splitlines()[start]]
    for line in text.splitlines()[start + 1 :]:
        if line and not line[0].isspace() and not line.startswith(("-", "#")):
            break
        block.append(line)
    try:
        located = load_yaml("\n".join(block) + "\n", start + 1)
    except Unreadable as fault:
        _fault(handbook, SETTINGS, fault)
        return

    def walk(node: Any, place: tuple[Any, ...]) -> None:
        if isinstance(node, str) and node.endswith(".md"):
            handbook.navigation[node.removesuffix(".md")] = line_of(located.lines, place)
        elif isinstance(node, dict):
            for key, value in node.items():
                walk(value, (*place, key))
        elif isinstance(node, list):
            for index, value in enumerate(node):
                walk(value, (*place, index))

    walk(located.data.get("nav"), ("nav",))


def main() -> int:
    """Print the problems of the handbook in the current folder."""
    problems = load(Path.cwd(), unread_ok=True).problems
    print(report(problems))
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
