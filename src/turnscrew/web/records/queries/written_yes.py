"""Did the customer agree in writing to what a line at the bench crosses?"""

from collections.abc import Sequence
from dataclasses import replace

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.bench.state import Stroke
from turnscrew.core.model.device import Device
from turnscrew.flows.bench.seals import YES
from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.asked_first import covers_asked_first

NOT_YET = "No yes in writing when this path was written: ask for it first."


def with_written_yes(run: Run, device: Device, job: Job) -> Run:
    """Say at each line that crosses such a cover whether and of when there is a yes."""
    valid = job.written_yes.filter(withdrawn_at=None)
    days = dict(valid.values_list("cover", "said_on"))
    asked = covers_asked_first(device)

    def told(line: Line) -> Line:
        if line.name not in asked or line.does != "undo" and line.kind != YES:
            return line
        day = days.get(line.name)
        words = NOT_YET if day is None else f"Agreed in writing on {day.isoformat()}."
        return replace(line, cautions=(*line.cautions, words))

    return replace(run, lines=tuple(map(told, run.lines)))


def not_agreed(job: Job, lines: Sequence[Line]) -> list[str]:
    """Give the covers on a path for which nobody has agreed in writing as yet."""
    asked = {line.name for line in lines if line.kind == YES}
    if not asked:
        return []
    given = job.written_yes.filter(withdrawn_at=None).values_list("cover", flat=True)
    return sorted(asked.difference(given))


def yes_refusal(job: Job, lines: Sequence[Line], stroke: Stroke) -> str:
    """Say why it cannot have been seen that the customer agreed; nothing if it can."""
    if stroke.text("answer") != "yes" or not 0 <= stroke.line < len(lines):
        return ""
    line = lines[stroke.line]
    if line.kind != YES or line.name not in not_agreed(job, [line]):
        return ""
    return (
        f"yes in writing: found none for {line.name}, wanted it written on the page "
        "Approvals first"
    )
