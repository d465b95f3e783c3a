"""Did the customer agree in writing to what a line at the bench crosses?"""

from dataclasses import replace

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.device import Device
from turnscrew.web.records.models import Job
from turnscrew.web.records.queries.asked_first import covers_asked_first

NOT_YET = "No yes in writing when this path was written: ask for it first."


def with_written_yes(run: Run, device: Device, job: Job) -> Run:
    """Say at each line that crosses such a cover whether and of when there is a yes."""
    valid = job.written_yes.filter(withdrawn_at=None)
    days = dict(valid.values_list("cover", "said_on"))
    asked = covers_asked_first(device)

    def told(line: Line) -> Line:
        if line.does != "undo" or line.name not in asked:
            return line
        day = days.get(line.name)
        words = NOT_YET if day is None else f"Agreed in writing on {day.isoformat()}."
        return replace(line, cautions=(*line.cautions, words))

    return replace(run, lines=tuple(map(told, run.lines)))
