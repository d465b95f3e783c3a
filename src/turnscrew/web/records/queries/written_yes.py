"""Did the customer agree in writing to what a line at the bench crosses?"""

from dataclasses import replace

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Cover
from turnscrew.web.records.models import Job

NOT_YET = "No yes in writing when this path was written: ask for it first."


def with_written_yes(run: Run, device: Device, job: Job) -> Run:
    """Say at each line that crosses such a cover whether and of when there is a yes."""
    valid = job.written_yes.filter(withdrawn_at=None)
    days = dict(valid.values_list("cover", "said_on"))
    asked = {
        name
        for name, joint in device.joints.items()
        if isinstance(joint.how, Cover) and joint.how.crossing == "ask first"
    }

    def told(line: Line) -> Line:
        if line.does != "undo" or line.name not in asked:
            return line
        day = days.get(line.name)
        words = NOT_YET if day is None else f"Agreed in writing on {day.isoformat()}."
        return replace(line, cautions=(*line.cautions, words))

    return replace(run, lines=tuple(map(told, run.lines)))
