"""Arguments in, exit codes out; nothing heavy is imported before the command is known."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path

OURS, SETTINGS, WRONG_USAGE, INTERRUPTED = 5, 4, 2, 130


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
    if told.command == "run":
        from pipeline.commands.run import run_command

        return run_command(told.folder, told.today, told.dry_run, told.json)
    if told.command == "check":
        from pipeline.commands.check import check_command

        return check_command(told.files, told.today)
    if told.command == "rules":
        from pipeline.commands.rules import rules_command

        return rules_command(told.name, told.write)
    if told.command == "new":
        from pipeline.commands.new import new_command

        return new_command(told.folder)
    from pipeline.commands.status import status_command

    return status_command(getattr(told, "folder", Path()))


def _explained(fault: Exception, is_debugging: bool) -> int:
    """One plain line for what went wrong; a traceback only where it was asked for."""
    if is_debugging:
        raise fault
    from pipeline.files.ledger import LedgerUnusable
    from pipeline.settings import SettingsWrong

    if isinstance(fault, (SettingsWrong, LedgerUnusable)):
        print(fault, file=sys.stderr)
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
    run = _command(commands, "run", "Take the inbox through to question sheets, batch and report.", "run")
    run.add_argument("folder", nargs="?", type=Path, default=Path(), help="the programme's folder (here)")
    run.add_argument("--today", type=_day, default=None, metavar="DATE", help="the day to write on everything dated")
    run.add_argument("--dry-run", action="store_true", help="look, and write nothing")
    run.add_argument("--json", action="store_true", help="print the figures as JSON")
    check = _command(commands, "check", "Look at single sheets and keep nothing.", 'check "my sheet.xlsx"')
    check.add_argument("files", nargs="+", type=Path, metavar="FILE")
    check.add_argument("--today", type=_day, default=None, metavar="DATE", help="the day on which the sheet came")
    status = _command(commands, "status", "Say what waits and what to do next.", "status")
    status.add_argument("folder", nargs="?", type=Path, default=Path(), help="the programme's folder (here)")
    rules = _command(commands, "rules", "List the rules, or explain one.", "rules day_outside_season")
    rules.add_argument("name", nargs="?", help="one rule")
    rules.add_argument("--write", action="store_true", help="write pipeline/rules/README.md anew")
    new = _command(commands, "new", "Make an empty programme.", "new our-programme")
    new.add_argument("folder", type=Path)
    return parser


def _command(commands: object, name: str, says: str, example: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(  # type: ignore[attr-defined]
        name, help=says, description=says, epilog=f"For example: tagsheaf {example}"
    )
    return made


if __name__ == "__main__":
    entry()
