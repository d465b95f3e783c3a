"""Is what came back looked at while its face is still up?"""

from flows.bench.bench_cases import all_cases
from turnscrew.core.model.device import Device


def _own_postures(device: Device, name: str) -> tuple[str, ...]:
    thing = device.joints.get(name) or device.parts.get(name)
    return thing.postures if thing is not None else ()


def test_nothing_is_looked_at_after_its_face_was_turned_away() -> None:
    n_looks, late = 0, []
    for device, run in all_cases():
        posture = ""
        for line in run.lines:
            posture = line.posture or posture
            if line.does != "look":
                continue
            for name in line.names:
                own = _own_postures(device, name)
                n_looks += bool(own)
                if own and posture not in own:
                    late.append((device.name, line.number, name, own, posture))

    assert n_looks > 100
    assert [] == late
