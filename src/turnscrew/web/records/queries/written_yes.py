"""Did the customer agree in writing to what a line at the bench crosses?"""

from dataclasses import replace

from turnscrew.core.bench.run import Line, Run
from turnscrew.core.model.device import Device
from turnscrew.core.model.holding import Cover
from turnscrew.web.records.models import Job

NOT_YET = "Nobody agreed in writing yet: leave it whole, and ask."


def with_written_yes(run: Run, device: Device, job: Job) -> Run:
    """Say at each line that crosses such a cover whether there is a yes, and since."""
    days = dict(job.written_yes.values_list("cover", "said_on"))
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
