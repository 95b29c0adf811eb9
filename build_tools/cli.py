"""The command line: one verb each.

Nothing but the standard library is imported at the top, so that --help works before anything is installed.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

from build_tools import __date__, __version__
from build_tools.environment import ROOT, Advice, need, server_program

# What a shell reports of a program that wrote to a reader who had left.
READER_HAS_LEFT = 141

COMMAND = ("py" if os.name == "nt" else "python3") + " -m build_tools"


def main(arguments: list[str] | None = None) -> int:
    """Run one command; gives its exit code: 0 all well, 1 something to mend, 2 not understood, 141 nobody reads on."""
    try:
        done = _run(arguments)
        # What is still held back goes out here, where a reader who has left is known for what that is.
        sys.stdout.flush()
        return done
    except Advice as advice:
        print(advice, file=sys.stderr)
        return 1
    except BrokenPipeError:
        # Whoever read this, such as `head`, has read enough. At its end Python would try to write the rest once more.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return READER_HAS_LEFT


def _run(arguments: list[str] | None) -> int:
    parser = _parser()
    given = parser.parse_args(arguments)
    if given.run is None:
        parser.print_help()
        return 2
    return int(given.run(given))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog=COMMAND,
        description="Check, build and preview the handbook, and calculate with its calculators.",
        epilog=f"Start with: {COMMAND} build",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"Pulse & Ruler {__version__} ({__date__})")
    parser.set_defaults(run=None)
    verbs = parser.add_subparsers(title="commands", metavar="COMMAND")

    def verb(name: str, run: Callable[[argparse.Namespace], int], says: str, *examples: str) -> argparse.ArgumentParser:
        made = verbs.add_parser(
            name,
            help=says,
            description=says,
            epilog="examples:\n" + "\n".join(f"  {COMMAND} {name} {example}".rstrip() for example in examples),
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        made.set_defaults(run=run)
        return made

    building = verb(
        "build",
        _build,
        "Check and prove everything, then build the site and place it.",
        "",
        "--fresh",
        "--site preview",
    )
    building.add_argument("--site", type=Path, default=ROOT / "site", help="folder to place the site in (site)")
    building.add_argument("--fresh", action="store_true", help="render all pages even if nothing has changed")

    building.add_argument(
        "--unread-ok",
        action="store_true",
        help="build although figures wait for their second read: for a look, never for publishing",
    )
    building.add_argument("--drafts", action="store_true", help="show drafts too: for a look, never for publishing")

    packing = verb(
        "pack",
        _pack,
        "Build, then pack the site into a zip to hand on. --portable: as a folder, and that as a zip, which opens by "
        "double-click from a disk, a stick or a file share.",
        "",
        "--portable",
        "--portable --to stick",
    )
    packing.add_argument("--portable", action="store_true", help="the edition that needs no server; one engine")
    packing.add_argument("--to", type=Path, default=ROOT / "packed", help="folder to put it in (packed)")
    packing.add_argument("--unread-ok", action="store_true", help="as for build: for a look, never to hand on")

    checking = verb(
        "check", _check, "List every fault in content and calculators, with file, line and mend.", "", "--json"
    )
    checking.add_argument("--json", action="store_true", help="counts and problems as JSON, for other programs")

    serving = verb(
        "serve", _serve, "Show the site in a browser and follow every change.", "", "--port 8001", "--host 0.0.0.0"
    )
    serving.add_argument("--host", default="127.0.0.1", help="address to listen on; 0.0.0.0 shows it to phones near by")
    serving.add_argument("--port", type=int, default=8000)

    calculating = verb(
        "calculate",
        _calculate,
        "Work out one result, in the words of the page. Without a name: list the calculators and their fields.",
        "",
        "mean_arterial_pressure systolic_mmhg=120 diastolic_mmhg=80",
        "mean_arterial_pressure systolic_mmhg=16kPa diastolic_mmhg=10.7kPa",
    )
    calculating.add_argument("name", nargs="?", metavar="NAME", help="a calculator, such as mean_arterial_pressure")
    calculating.add_argument("answers", nargs="*", metavar="field=value", help="a unit may follow: systolic_mmhg=16kPa")

    reading = verb(
        "second-read",
        _second_read,
        "List the figures that no second person has held against their source, or sign those of one page.",
        "list",
        "list findings/collapsing-pulse",
        "sign findings/collapsing-pulse",
        "sign values/pulse --line 40",
    )
    reading.add_argument("action", choices=("list", "sign"))
    reading.add_argument("page", nargs="?", metavar="PAGE", help="a page or data file, such as values/pulse")
    reading.add_argument("--line", type=int, help="sign this line alone")

    measuring = verb(
        "benchmark",
        _benchmark,
        "Measure what readers and writers wait for, on a phone's profile: one table, in minutes.",
        "",
        "reading --runs 5",
    )
    measuring.add_argument("rest", nargs="*", metavar="...", help="reading, building; neither: both")
    measuring.add_argument("--runs", type=int, default=3, help="openings of each page; the middle one counts (3)")

    testing = verb(
        "test",
        _test,
        "Run every test: code, calculators, build, and the built site in a browser.",
        "",
        "--quick",
        "tests/calculators",
        "-- -k placing",
    )
    testing.add_argument("--quick", action="store_true", help="leave out the slow ones: under three minutes")
    testing.add_argument("rest", nargs="*", metavar="...", help="handed to pytest, options after --")
    return parser


def _build(given: argparse.Namespace) -> int:
    from build_tools.building import BuildFailed, PlacingBrokeOff, build
    from build_tools.placing import is_publishers

    def tell(line: str) -> None:
        print(line, flush=True)

    site = given.site.resolve()
    there = [path.name for path in site.iterdir() if not is_publishers(path.name)] if site.is_dir() else []
    if site in (ROOT, *ROOT.parents) or (there and "index.html" not in there):
        # Placing removes what does not belong to the site.
        raise Advice(f"{site} holds other things. Name an empty folder or one that holds an earlier site.")
    try:
        built = build(ROOT, site, fresh=given.fresh, unread_ok=given.unread_ok, drafts=given.drafts, tell=tell)
    except BuildFailed as failure:
        print(failure, file=sys.stderr)
        print(f"Nothing was placed: {_shown(site)} is as it was.", file=sys.stderr)
        return 1
    except PlacingBrokeOff as failure:
        print(
            f"{failure}\nMend that and run the same command again. The pages there have all their files.",
            file=sys.stderr,
        )
        return 1
    tell(
        f"{_shown(site)} holds {built.pages} pages ({built.size / 1e6:.1f} MB). "
        f"{built.checks} checks of calculators passed. "
        f"{built.placed.written} files written, {built.placed.removed} removed, {built.seconds:.1f} s."
    )
    tell(f"Look at it: {COMMAND} serve")
    return 0


def _pack(given: argparse.Namespace) -> int:
    from build_tools import packing
    from build_tools.building import BuildFailed, rendered

    try:
        with rendered(ROOT, unread_ok=given.unread_ok) as made:
            to = given.to.resolve()
            packed = packing.pack_portable(made.site, to) if given.portable else (packing.pack_site(made.site, to),)
    except BuildFailed as failure:
        print(f"{failure}\nNothing was packed.", file=sys.stderr)
        return 1
    for path in packed:
        print(f"{_shown(path).rstrip(os.sep)} ({packing.size_of(path) / 1e6:.1f} MB)")
    if given.portable:
        print("Open index.html in it with a double-click. Unpack the zip first: no page works inside it.")
    return 0


def _check(given: argparse.Namespace) -> int:
    from build_tools import handbook, proving
    from build_tools.problems import report

    book = handbook.load(ROOT)
    proof = proving.prove(book.sheets)
    problems = sorted({*book.problems, *proof.misses})
    if given.json:
        counts = {
            "pages": len(book.pages),
            "calculators": len(book.sheets),
            "values": len(book.values),
            "red_flags": len(book.red_flags),
            "checks": proof.count,
            "checks_by_kind": proof.by_kind,
            "problems": len(problems),
        }
        found = [vars(problem) for problem in problems]
        print(json.dumps({"counts": counts, "problems": found}, indent=2, ensure_ascii=False))
    else:
        print(report(problems))
        print(f"{len(book.pages)} pages, {len(book.sheets)} calculators, {proof.count} checks of calculators.")
    return 1 if problems else 0


def _serve(given: argparse.Namespace) -> int:
    from build_tools.serving import serve

    serve(ROOT, given.host, given.port)
    return 0


def _calculate(given: argparse.Namespace) -> int:
    from build_tools import handbook
    from build_tools.calculating import answered
    from calculators import form
    from calculators.wording import MOST_OPTIONS

    book = handbook.load_sheets(ROOT, given.name)
    if given.name is None:
        for sheet in book.sheets.values():
            fields = " ".join(f"{field['id']}=" for field in form.entries(sheet.data))
            print(f"{sheet.id} {fields}\n    {sheet.data['title']}")
        return 0
    unclear = [word for word in given.answers if "=" not in word]
    if unclear:
        print(f"{unclear[0]!r} has no '=': write field=value, such as systolic_mmhg=120.", file=sys.stderr)
        return 2
    reply = answered(book, given.name, dict(word.split("=", 1) for word in given.answers))
    for told in (*reply["problems"], *reply["cautions"]):
        print(f"{told['field']}: {told['message']}" if told["field"] else told["message"], file=sys.stderr)
    if reply["state"] != "answer":
        if given.name not in book.sheets:
            print(f"List them: {COMMAND} calculate", file=sys.stderr)
            return 1
        unsettled = {problem["field"] for problem in reply["problems"]}
        for field in form.fields(book.sheets[given.name].data):
            if field["field"] in unsettled and len(field["input"].get("choices", [])) > MOST_OPTIONS:
                for option in field["input"]["choices"]:
                    print(f"{field['field']}={option['id']}\n    {option['label']}", file=sys.stderr)
        return 1
    print(reply["text"])
    return 0


def _second_read(given: argparse.Namespace) -> int:
    from build_tools import handbook, second_reads

    book = handbook.load(ROOT)
    if given.action == "list":
        unread = [unit for unit in second_reads.missing(book) if given.page in (None, unit.of)]
        for unit in unread:
            print(f"{unit.file}:{unit.line}: {unit.says}")
        print(f"{len(unread)} figures wait for a second read.")
        return 0
    if given.page is None:
        raise Advice(f"Say which page was read: {COMMAND} second-read sign findings/collapsing-pulse")
    try:
        signed = second_reads.sign(book, given.page, date.today().isoformat(), given.line)
    except KeyError:
        raise Advice(f"There is no figure to read in {given.page!r}. List them: {COMMAND} second-read list") from None
    print(f"Signed {signed} figures of {given.page}.")
    return 0


def _benchmark(given: argparse.Namespace) -> int:
    _need_chromium()
    command = [sys.executable, "-m", "tests.benchmarks", "--runs", str(given.runs), *given.rest]
    return subprocess.call(command, cwd=ROOT)


def _need_chromium() -> None:
    if shutil.which("chromium") is None:
        # With the fonts that the pages' measures were taken in.
        need("The tests of the built site need the browser Chromium", "chromium", "fonts-liberation")


def _need_other_browsers() -> None:
    # xvfb-run asks for xauth, which its package only recommends.
    programs = {
        "firefox-esr": "firefox-esr", "WebKitWebDriver": "webkit2gtk-driver", "xvfb-run": "xvfb", "xauth": "xauth",
    }
    if packages := [package for program, package in programs.items() if shutil.which(program) is None]:
        need("The same journeys are tested in Firefox and WebKit, unless --quick is given", *packages)


def _need_servers() -> None:
    # Debian's packages are called as the programs are.
    if missing := [name for name in ("nginx", "apache2", "openssl") if server_program(name) is None]:
        need("The settings for web servers are tested in nginx and Apache, unless --quick is given", *missing)


def _test(given: argparse.Namespace) -> int:
    _need_chromium()
    if not given.quick:
        _need_other_browsers()
        _need_servers()
    chosen = ["-m", "not slow"] if given.quick else []
    # A process of its own, so that the tests are the first to import what they test.
    return subprocess.call([sys.executable, "-m", "pytest", "--durations=20", *chosen, *given.rest], cwd=ROOT)


def _shown(path: Path) -> str:
    return f"{path.relative_to(ROOT)}{os.sep}" if path.is_relative_to(ROOT) else str(path)
