"""The command line: every verb explains itself, answers in the words of the page, and fails with advice."""

from __future__ import annotations

import argparse
import json
import re
import subprocess
import sys

import pytest

from build_tools import __version__, cli
from build_tools.environment import ROOT, Advice

PARSER = cli._parser()
VERBS = next(action for action in PARSER._actions if isinstance(action, argparse._SubParsersAction)).choices
MEAN = ["calculate", "mean_arterial_pressure"]


def test_the_verbs_are_the_promised_ones() -> None:
    assert list(VERBS) == ["build", "check", "serve", "calculate", "second-read", "benchmark", "test"]


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


def test_no_verb_gives_the_help() -> None:
    assert cli.main([]) == 2


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
