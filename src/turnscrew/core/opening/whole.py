"""What is to be known of a device as a whole, and how is it known?"""

from collections.abc import Iterator, Mapping, Set

from turnscrew.core.model.amounts import percent
from turnscrew.core.model.device import Device
from turnscrew.core.model.doing import Doing
from turnscrew.core.model.proof import KnownError, Origin, Photo
from turnscrew.core.opening.sentences import stop_after


def about(device: Device) -> tuple[str, ...]:
    """
    Say how a device is recognised, and how sure its facts are.

    Parameters
    ----------
    device
        The device, in one revision.

    Returns
    -------
    tuple
        Sentences for the head of a sheet.
    """
    kind = ", ".join(words for words in (device.what, device.variant) if words)
    found = [kind, f"told by: {device.tell}" if device.tell else ""]
    found += _revision_words(device)
    if device.origin is not None:
        found.append(f"facts: {origin_words(device.origin)}")
    if device.release is not None:
        found.append(_release_words(device))
    return tuple(stop_after(words) for words in found if words)


def _revision_words(device: Device) -> Iterator[str]:
    revision = device.revisions.get(device.revision)
    if revision is None:
        return
    if revision.tell:
        yield f"revision {device.revision}: {revision.tell}"
    if revision.confirm:
        yield f"sure only once open: {revision.confirm}"
    if revision.order_after_confirm:
        yield "order nothing before that is seen"


def _release_words(device: Device) -> str:
    release = device.release
    assert release is not None
    on = f" on {release.on}" if release.on else ""
    by = f" by {release.by}{on}" if release.by else on
    tried = f", rebuilt by {release.tried_by}" if release.tried_by else ""
    return f"description: {release.state}{by}{tried}"


def origin_words(origin: Origin) -> str:
    """
    Say where facts come from.

    Parameters
    ----------
    origin
        Their origin.

    Returns
    -------
    str
        How, by whom, on which device, when, and how sure.
    """
    on = str(origin.on) if origin.on else ""
    facts = (origin.how, origin.by, origin.serial, on, origin.sure)
    return ", ".join(fact for fact in facts if fact)


def origin_details(device: Device, name: str, doing: Doing) -> Iterator[str]:
    """
    Say where the facts of one thing come from, where that is said for it alone.

    Parameters
    ----------
    device
        The device.
    name
        Its name.
    doing
        The joint, part or move.

    Yields
    ------
    str
        Sentences.
    """
    if doing.origin is not None:
        yield stop_after(f"how known: {origin_words(doing.origin)}")
    for path, origin in device.origins.items():
        section, _, rest = path.partition(".")
        if section in ("parts", "joints", "moves") and rest.startswith(f"{name}."):
            fact = rest.removeprefix(f"{name}.")
            yield stop_after(f"{fact}: {origin_words(origin)}")


def arrived_words(device: Device, serial: str) -> tuple[str, ...]:
    """
    Say what was wrong when one device arrived before.

    Parameters
    ----------
    device
        The device.
    serial
        Its serial; empty if it is not known.

    Returns
    -------
    tuple
        Sentences; none of a device that is not named.
    """
    return tuple(
        stop_after(
            f"{one.serial} came so before: {one.what}"
            + (f" ({one.joint}, {one.missing} missing)" if one.missing else "")
        )
        for one in device.arrived
        if serial and one.serial == serial
    )


def slip_sentence(error: KnownError, where: str) -> str:
    """
    Say which slip was met, and how often.

    Parameters
    ----------
    error
        The slip.
    where
        Where it was met, such as ``here``.

    Returns
    -------
    str
        One sentence.
    """
    often = f" ({error.n} times)" if error.n > 1 else ""
    return stop_after(f"slip met {where}: {error.what}{often}")


def photo_sentences(device: Device, off: Set[str]) -> tuple[str, ...]:
    """
    List the photos of an opening: layer, face, light and scale.

    Parameters
    ----------
    device
        The device.
    off
        Parts and joints that come off.

    Returns
    -------
    tuple
        One sentence for each photo.
    """
    return tuple(dict.fromkeys(_photo_words(p) for p in _photos(device, off)))


def _photo_words(photo: Photo) -> str:
    facts = (
        photo.layer,
        f"face {photo.view}" if photo.view else "",
        f"light: {photo.light}" if photo.light else "",
        f"scale: {photo.scale}" if photo.scale else "",
    )
    return stop_after(f"photo {photo.name}: {'; '.join(f for f in facts if f)}")


def _photos(device: Device, off: Set[str]) -> Iterator[Photo]:
    yield from device.photos
    groups: tuple[Mapping[str, Doing], ...] = (
        device.parts,
        device.joints,
        device.moves,
    )
    for group in groups:
        for name, doing in group.items():
            if name in off:
                yield from doing.photos


def mark_details(device: Device, name: str, doing: Doing) -> Iterator[str]:
    """
    Say in which photo a thing is seen, and where in it.

    Parameters
    ----------
    device
        The device.
    name
        The joint or part.
    doing
        What is done with it.

    Yields
    ------
    str
        One sentence for each photo and mark.
    """
    for photo in doing.photos:
        if not any(mark.what == name for mark in photo.marks):
            yield stop_after(f"see photo {photo.name}")
    every = {*device.parts, *device.joints, *device.moves}
    for photo in dict.fromkeys(_photos(device, every)):
        for mark in photo.marks:
            if mark.what == name:
                yield _mark_words(photo.name, mark.at_share, mark.says)


def _mark_words(photo: str, at: tuple[float, float] | None, says: str) -> str:
    where = ""
    if at:
        where = f", {percent(at[0])} from the left, {percent(at[1])} from the top"
    return stop_after(f"see photo {photo}{where}{f': {says}' if says else ''}")
