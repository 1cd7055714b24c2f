"""``fleet``: many farms' books at once, and the figures over all of them."""

from __future__ import annotations

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from readiness.cli.arguments import argument, flag, json_option, path_argument, whole
from readiness.cli.bar import Bar
from readiness.cli.context import Context, named
from readiness.cli.output import Output
from readiness.system.clock import SystemClock
from readiness.system.errors import UsageError
from readiness.trade.words import plural

if TYPE_CHECKING:
    from readiness.fleet.task import Done, Failed

STATS, BOARD = "stats", "board"
PROCESSES_MOST = 1024
MEGABYTE = 1024 * 1024


def arguments(parser: ArgumentParser) -> None:
    parser.epilog = (
        "A farm that cannot be done is named with why and stops nobody; then the exit code is "
        "that of the first such, as its own command would have it (65 damaged or newer, 75 in "
        "use, 73 no room). Run again, what is done already is skipped."
    )
    text = (
        "the folder of the farms' books, exports or partitions; or `stats OUT`, the figures over "
        "all that is in OUT; or `board OUT`, what `board --json` says of the --farm"
    )
    argument(parser, "folders", "DIR", text, nargs="+", type=path_argument)
    text = "where the results go: a new folder, or one of an earlier run"
    argument(parser, "--out", "DIR", text, type=path_argument)
    text = "a Dask scheduler that is there (tcp://HOST:PORT), where the same folders are seen"
    argument(parser, "--scheduler", "ADDRESS", text)
    argument(parser, "--processes", "N", "so many of them here (default: one a core)", type=_count)
    flag(parser, "--partitions", "only write the farms' entries as Parquet partitions into --out")
    argument(parser, "--farm", "NAME", "with board: of this farm")
    json_option(parser)


def _count(text: str) -> int:
    if not 1 <= (count := whole(text)) <= PROCESSES_MOST:
        raise ArgumentTypeError(f"give 1 to {PROCESSES_MOST:,} processes")
    return count


def run(options: Namespace, context: Context, output: Output) -> int | None:
    first, *more = options.folders
    asked = str(first) if len(more) == 1 else ""
    if asked in (STATS, BOARD):
        _refuse(options, "out", "scheduler", "processes", "partitions")
        return (_stats if asked == STATS else _board)(more[0], options, context, output)
    if more:
        raise UsageError(
            "Give one folder of farms, `stats OUT` or `board OUT`. `--help` shows how."
        )
    if options.out is None:
        raise UsageError("Say where the results go: --out DIR.")
    _refuse(options, "farm")
    return _run(first, options, context, output)


def _refuse(options: Namespace, *names: str) -> None:
    for name in names:
        if getattr(options, name):
            raise UsageError(f"--{name} has no meaning here: take it away.")


def _run(folder: Path, options: Namespace, context: Context, output: Output) -> int | None:
    from readiness.fleet.place import ASSESSED, ENTRIES, claim, refuse_place
    from readiness.fleet.run import Engine, run
    from readiness.fleet.sources import sources
    from readiness.fleet.task import Done, Failed, Job

    found = sources(folder.absolute())
    out, rules = options.out.absolute(), named(options, "rules")
    on = None if options.partitions else context.on or SystemClock().today()
    settings = context.settings
    engine = Engine(options.scheduler, options.processes)
    rules = rules and rules.absolute()
    if rules:
        from readiness.rules.load import load_rules

        load_rules(rules, settings.mine)  # what is wrong with it is said once, not by every farm
    what = ENTRIES if options.partitions else ASSESSED
    refuse_place(out, what, folder)
    jobs = [Job(source, out, on, rules, settings) for source in found]
    with Bar("fleet") as bar:
        came = run(jobs, engine, partial(claim, out, what), output.note, bar.tell)
    done = [each for each in came if isinstance(each, Done)]
    failed = [each for each in came if isinstance(each, Failed)]
    (_json if options.json else _say)(out, done, failed, output)
    return failed[0].code if failed else None


def _json(out: Path, done: Sequence[Done], failed: Sequence[Failed], output: Output) -> None:
    processes = sorted({each.worker for each in done if not each.skipped})
    told = ("farm", "path", "entries", "bulls", "go", "skipped")
    output.json(
        {
            "out": str(out),
            "farms": [{name: getattr(each, name) for name in told} for each in done],
            "failed": [each._asdict() for each in failed],
            "processes": [
                {
                    "process": process,
                    "farms": sum(each.worker == process and not each.skipped for each in done),
                    "peak_mb": round(
                        max(e.peak for e in done if e.worker == process) / MEGABYTE, 1
                    ),
                }
                for process in processes
            ],
        }
    )


def _say(out: Path, done: Sequence[Done], failed: Sequence[Failed], output: Output) -> None:
    before = sum(each.skipped for each in done)
    again = f", {before} of them before" if before else ""
    entries = plural(sum(each.entries for each in done), "entry", "entries")
    go, bulls = sum(each.go for each in done), sum(each.bulls for each in done)
    stand = f", {plural(bulls, 'bull')}, {go} GO" if bulls else ""
    output.say(f"{out}: {plural(len(done), 'farm')} done{again}{stand}, {entries}")
    for each in failed:
        output.note(f"not done: {each.farm}: {each.why}")


def _stats(out: Path, options: Namespace, context: Context, output: Output) -> None:
    from readiness.fleet.figures import figures_json, published
    from readiness.rules.load import load_rules

    _refuse(options, "farm")
    rules = load_rules(named(options, "rules"), context.settings.mine).common.stats
    figures = published(out, rules, context.on)
    if options.json:
        output.json(figures_json(figures))
        return
    from readiness.fleet.words import figures_text

    output.say(figures_text(figures, output.look))


def _board(out: Path, options: Namespace, context: Context, output: Output) -> None:
    from readiness.fleet.boards import board_line

    if options.farm is None:
        raise UsageError("Say whose board: --farm NAME.")
    output.raw(board_line(out, options.farm, context.on))
