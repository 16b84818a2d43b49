"""Arguments in, exit codes out; nothing heavy is imported before the command is known."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

OURS, SETTINGS, WRONG_USAGE, INTERRUPTED = 5, 4, 2, 130
# What the coordinator looks up in the ledger or changes in it: the arguments of each command's function.
BY_HAND = {
    "history": ("thing", "folder"), "answer": ("ref", "what", "because", "folder"),
    "withdraw": ("ref", "because", "folder"), "sent": ("people", "all", "on", "folder"),
    "delivered": ("batch", "on", "folder"), "past": ("file", "season", "folder"), "trace": ("file", "folder"),
    "undo": ("folder",), "audit": ("file", "out", "today", "json"),
}  # fmt: skip


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command and returns its exit code."""
    told = _parser().parse_args(arguments)
    try:
        return _do(told)
    except KeyboardInterrupt:
        print("Stopped. Nothing is lost: run again whenever you like.", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        return 0
    except Exception as fault:
        return _explained(fault, getattr(told, "debug", False))


def entry() -> None:
    """The console script."""
    sys.exit(main())


def _do(told: argparse.Namespace) -> int:
    name = told.command or "status"
    if name in ("run", "deliver"):
        from pipeline.commands.run import run_command

        code = run_command(told.folder, told.today, name == "run" and told.dry_run, told.json, name == "deliver")
        if told.data_package and not (name == "run" and told.dry_run):
            from pipeline.commands.data_package import data_package_command

            data_package_command(told.folder)
        return code
    if name == "check":
        from pipeline.commands.check import check_command

        return check_command(told.files, told.today)
    if name == "rules":
        from pipeline.commands.rules import rules_command

        return rules_command(told.name, told.write)
    if name == "new":
        from pipeline.commands.new import new_command

        return new_command(told.folder)
    if name == "status":
        from pipeline.commands.status import status_command

        return status_command(getattr(told, "folder", Path()), getattr(told, "today", None))
    return _do_by_hand(name, told)


def _do_by_hand(name: str, told: argparse.Namespace) -> int:
    """What the coordinator looks up in the ledger or changes in it: the command's function in its module."""
    from importlib import import_module

    command = getattr(import_module(f"pipeline.commands.{name}"), f"{name}_command")
    return int(command(*(getattr(told, argument) for argument in BY_HAND[name])))


def _explained(fault: Exception, is_debugging: bool) -> int:
    """One plain line for what went wrong; a traceback only where it was asked for."""
    if is_debugging:
        raise fault
    from pipeline.files.ledger import LedgerUnusable, disk_in_words
    from pipeline.settings import SettingsWrong

    if isinstance(fault, (SettingsWrong, LedgerUnusable)):
        print(fault, file=sys.stderr)
        return SETTINGS
    if words := disk_in_words(fault):
        print(words, file=sys.stderr)
        return SETTINGS
    if isinstance(fault, OSError):
        where = f" ({Path(fault.filename).name})" if fault.filename else ""
        print(
            f"{fault.strerror or fault}{where}: nothing was lost. Put it right and run again.",
            file=sys.stderr,
        )
        return SETTINGS
    print(f"This is our fault, not yours: {fault}", file=sys.stderr)
    print("Nothing was lost. Please send us this line; --debug shows the details.", file=sys.stderr)
    return OURS


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text} is not a day like 2026-11-25") from None


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tagsheaf",
        description="Gathers the sheets of a wing-tagging season, asks about doubts, publishes what is clear.",
        epilog="Without a command: what waits and what to do next.",
    )
    parser.add_argument("--debug", action="store_true", help="show the details of a fault of ours")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    _run_and_deliver(commands)
    check = _command(commands, "check", "Look at single sheets and keep nothing.", 'check "my sheet.xlsx"')
    check.add_argument("files", nargs="+", type=Path, metavar="FILE")
    _day_option(check, "--today", "the day on which the sheet came")
    status = _command(commands, "status", "Say what waits and what to do next.", "status")
    status.add_argument("folder", nargs="?", type=Path, default=Path(), help="the programme's folder (here)")
    _day_option(status, "--today", "the day to count from")
    rules = _command(commands, "rules", "List the rules, or explain one.", "rules day_outside_season")
    rules.add_argument("name", nargs="?", help="one rule")
    rules.add_argument("--write", action="store_true", help="write pipeline/rules/README.md anew")
    new = _command(commands, "new", "Make an empty programme.", "new our-programme")
    new.add_argument("folder", type=Path)
    _by_hand(commands)
    _audit(commands)
    return parser


def _run_and_deliver(commands: object) -> None:
    run = _command(commands, "run", "Take the inbox through to question sheets, batch and report.", "run")
    run.add_argument("--dry-run", action="store_true", help="look, and write nothing")
    deliver = _command(commands, "deliver", "Run, and write one batch of all that is new or changed.", "deliver")
    for command in (run, deliver):
        command.add_argument("folder", nargs="?", type=Path, default=Path(), help="the programme's folder (here)")
        _day_option(command, "--today", "the day to write on everything dated")
        command.add_argument("--json", action="store_true", help="print the figures as JSON")
        command.add_argument("--data-package", action="store_true", help="also write a Data Package, a draft standard")


def _by_hand(commands: object) -> None:
    """The commands that look something up in the ledger or change it by hand."""
    history = _command(commands, "history", "Tell the whole story of a person, tag, file or id.", "history SM0042")
    history.add_argument("thing", metavar="PERSON|TAG|FILE|ID")
    example = 'answer K3H8M2Q suggestion --because "said so by telephone"'
    answer = _command(commands, "answer", "Put down an answer that you were given by telephone.", example)
    answer.add_argument("ref", metavar="REF", help="the question's Ref, as in coordinator/questions.xlsx")
    answer.add_argument("what", metavar="ANSWER", help="suggestion, right, unknown, or the right value")
    example = 'withdraw K3H8M2Q --because "the sheet was a test"'
    withdraw = _command(commands, "withdraw", "Take a row out of the season and back from the portal.", example)
    withdraw.add_argument("ref", metavar="REF", help="the Ref of a question or row, or an occurrenceID")
    for command in (answer, withdraw):
        command.add_argument("--because", required=True, metavar="TEXT", help="why, in a few words: it is kept")
    sent = _command(commands, "sent", "Note that letters were sent: their due dates begin.", "sent p01 p07")
    sent.add_argument("people", nargs="*", metavar="PERSON", help="whose letters")
    sent.add_argument("--all", action="store_true", help="everybody who is asked something")
    delivered = _command(commands, "delivered", "Note that the data desk took a batch.", "delivered 2026-0001")
    delivered.add_argument("batch", metavar="BATCH")
    for command in (sent, delivered):
        _day_option(command, "--on", "on which day (today)")
    example = "past occurrence-2025.csv --season 2025"
    past = _command(commands, "past", "Take in records of an earlier season, with the ids they have.", example)
    past.add_argument("file", type=Path, metavar="FILE")
    past.add_argument("--season", required=True, metavar="LABEL", help="the season's label, as in tags.csv")
    trace = _command(commands, "trace", "Say which cells a data desk's reply is about.", "trace reply.xlsx")
    trace.add_argument("file", type=Path, metavar="FILE", help="any table with a column occurrenceID")
    undo = _command(commands, "undo", "Take back what the last run brought in.", "undo")
    for command in (history, answer, withdraw, sent, delivered, past, trace, undo):
        command.add_argument("--folder", type=Path, default=Path(), help="the programme's folder (here)")


def _audit(commands: object) -> None:
    says = "Run the tests of TDWG's data quality draft on a Darwin Core table, ours or anybody's."
    audit = _command(commands, "audit", says, "audit outbox/portal/archive.zip --out responses.csv")
    audit.add_argument("file", type=Path, metavar="FILE", help="a text table, or an archive (.zip)")
    audit.add_argument("--out", type=Path, metavar="CSV", help="also write every response, a line for record and test")
    _day_option(audit, "--today", "the day on which days are held to be past")
    audit.add_argument("--json", action="store_true", help="print the counts as JSON")


def _day_option(command: argparse.ArgumentParser, name: str, says: str) -> None:
    command.add_argument(name, type=_day, default=None, metavar="DATE", help=says)


def _command(commands: object, name: str, says: str, example: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(  # type: ignore[attr-defined]
        name, help=says, description=says, epilog=f"For example: tagsheaf {example}"
    )
    return made


if __name__ == "__main__":
    entry()
