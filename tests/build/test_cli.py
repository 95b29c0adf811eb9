"""The command line: every verb explains itself, answers in the words of the page, and fails with advice."""

from __future__ import annotations

import argparse
import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from build_tools import __version__, building, cli
from build_tools.building import PlacingBrokeOff
from build_tools.environment import ROOT, Advice

PARSER = cli._parser()
VERBS = next(action for action in PARSER._actions if isinstance(action, argparse._SubParsersAction)).choices
MEAN = ["calculate", "mean_arterial_pressure"]


def test_the_verbs_are_the_promised_ones() -> None:
    assert list(VERBS) == ["build", "pack", "check", "serve", "calculate", "second-read", "benchmark", "test"]


@pytest.mark.parametrize("verb", VERBS)
def test_the_help_of_every_verb_holds_examples_that_are_understood(verb: str) -> None:
    text = VERBS[verb].format_help()
    examples = re.findall(rf"(?m)^  {re.escape(cli.COMMAND)} (.+)$", text.partition("examples:")[2])
    assert examples
    for example in examples:
        given = PARSER.parse_args(example.split())
        assert given.run is not None


def test_every_command_of_the_readme_is_understood() -> None:
    commands = re.findall(r"(?m)^python3 -m build_tools ([^#\n]+)", (ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(commands) >= 5
    for command in commands:
        assert PARSER.parse_args(command.split()).run is not None


def test_help_needs_no_environment() -> None:
    """It must come before anything is installed, so nothing but the standard library may be imported."""
    code = "import sys; sys.argv[1:] = ['--help']; sys.path.insert(0, '.'); from build_tools import cli; cli.main()"
    done = subprocess.run([sys.executable, "-I", "-S", "-c", code], cwd=ROOT, capture_output=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    assert "calculate" in done.stdout


def test_a_reader_who_has_read_enough_is_no_fault() -> None:
    """As in `calculate | head`."""
    code = (
        "import sys; from build_tools import cli; cli._run = lambda arguments: print('told') or 0; "
        "sys.stdin.read(); sys.exit(cli.main([]))"
    )
    command = [sys.executable, "-c", code]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with subprocess.Popen(command, cwd=ROOT, **pipes) as process:
        assert process.stdin and process.stdout and process.stderr
        process.stdout.close()
        process.stdin.close()  # it may begin
        told = process.stderr.read()
    assert told == b""
    assert process.returncode == cli.READER_HAS_LEFT


def test_no_verb_gives_the_help() -> None:
    assert cli.main([]) == 2


def test_a_publishers_own_server_files_do_not_make_a_folder_a_strange_one(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Settings for the server may be there before the first build; anything else is not to be lost."""

    def placed(*_: object, **__: object) -> None:
        raise PlacingBrokeOff("it came to that")

    monkeypatch.setattr(building, "build", placed)
    (tmp_path / ".htaccess").touch()
    assert cli.main(["build", "--site", str(tmp_path)]) == 1
    assert "it came to that" in capsys.readouterr().err
    (tmp_path / "thesis.doc").touch()
    assert cli.main(["build", "--site", str(tmp_path)]) == 1
    assert "holds other things" in capsys.readouterr().err


class TestCalculate:
    def test_gives_the_text_of_the_page(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main([*MEAN, "systolic_mmhg=120", "diastolic_mmhg=80"]) == 0
        text = capsys.readouterr().out
        assert text.startswith("Mean arterial pressure\n")
        assert "93 mmHg" in text
        assert "Source" in text
        assert f"Pulse & Ruler {__version__}" in text

    def test_takes_another_unit_after_the_number(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main([*MEAN, "systolic_mmhg=16kPa", "diastolic_mmhg=10.7 kPa"]) == 0
        assert "94 mmHg (12.5 kPa)" in capsys.readouterr().out

    @pytest.mark.parametrize(
        ("answers", "told"),
        [
            (["systolic_mmhg=80", "diastolic_mmhg=120"], "may be swapped"),
            (["systolic_mmhg=120"], "diastolic"),
            (["systolic_mmhg=fast", "diastolic_mmhg=80"], "systolic_mmhg: "),
        ],
    )
    def test_refuses_with_the_field_and_the_reason(
        self, answers: list[str], told: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert cli.main([*MEAN, *answers]) == 1
        printed = capsys.readouterr()
        assert told in printed.err
        assert printed.out == ""

    def test_lists_the_calculators_and_their_fields(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["calculate"]) == 0
        text = capsys.readouterr().out
        for sheet in (ROOT / "calculators").glob("*/sheet.toml"):
            listed = re.search(rf"(?m)^{sheet.parent.name} \w", text) is not None
            assert listed == ('status = "draft"' not in sheet.read_text("utf-8"))

    def test_an_unknown_calculator_leads_to_the_list(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["calculate", "mean_arterial"]) == 1
        assert "build_tools calculate" in capsys.readouterr().err

    def test_a_word_without_an_equals_sign_is_explained(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main([*MEAN, "120"]) == 2
        assert "write field=value" in capsys.readouterr().err


def test_the_handbook_has_no_fault_and_no_figure_waits_for_its_second_read(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check"]) == 0, capsys.readouterr().out


def test_check_as_json_can_be_read_by_another_program(capsys: pytest.CaptureFixture[str]) -> None:
    exit_code = cli.main(["check", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert told["counts"]["problems"] == len(told["problems"])
    assert told["counts"]["checks"] == sum(told["counts"]["checks_by_kind"].values()) > 0
    assert exit_code == (1 if told["problems"] else 0)
    for problem in told["problems"]:
        assert list(problem) == ["file", "line", "message", "mend"]


def test_other_browsers_are_asked_for_unless_the_run_is_a_quick_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def need(lacking: str, *packages: str) -> None:
        raise Advice(f"{lacking}: {packages}")

    monkeypatch.setattr(cli.shutil, "which", lambda name, **_: None if name == "WebKitWebDriver" else name)
    monkeypatch.setattr(cli, "need", need)
    monkeypatch.setattr(cli.subprocess, "call", lambda *_, **__: 0)
    assert cli.main(["test"]) == 1
    assert "('webkit2gtk-driver',)" in capsys.readouterr().err
    assert cli.main(["test", "--quick"]) == 0


class TestSecondRead:
    def test_lists_what_waits(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["second-read", "list"]) == 0
        assert re.search(r"\d+ figures wait for a second read\.$", capsys.readouterr().out.strip())

    @pytest.mark.parametrize(("words", "told"), [(["sign"], "Say which page"), (["sign", "no-such-page"], "no figure")])
    def test_signs_nothing_that_is_not_named(
        self, words: list[str], told: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        ledger = (ROOT / "content" / "second_reads.toml").read_bytes()
        assert cli.main(["second-read", *words]) == 1
        assert told in capsys.readouterr().err
        assert (ROOT / "content" / "second_reads.toml").read_bytes() == ledger


def test_a_missing_browser_is_asked_for_before_the_tests_begin(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def need(lacking: str, *packages: str) -> None:
        raise Advice(f"{lacking}: {packages}")

    monkeypatch.setattr(cli.shutil, "which", lambda name: None)
    monkeypatch.setattr(cli, "need", need)
    assert cli.main(["test"]) == 1
    assert "browser" in capsys.readouterr().err


def test_missing_servers_are_asked_for_unless_the_run_is_a_quick_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def need(lacking: str, *packages: str) -> None:
        raise Advice(f"{lacking}: {packages}")

    monkeypatch.setattr(cli, "_need_chromium", lambda: None)
    monkeypatch.setattr(cli, "_need_other_browsers", lambda: None)
    monkeypatch.setattr(cli, "server_program", lambda name: None if name == "nginx" else f"/usr/sbin/{name}")
    monkeypatch.setattr(cli, "need", need)
    monkeypatch.setattr(cli.subprocess, "call", lambda *_, **__: 0)
    assert cli.main(["test"]) == 1
    assert "('nginx',)" in capsys.readouterr().err
    assert cli.main(["test", "--quick"]) == 0
