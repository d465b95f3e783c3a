"""How are the terms of a batch and the people of the workshop read?"""

from collections.abc import Collection, Iterator, Mapping

from turnscrew.core.model.device_number import FIRST_YEAR, LAST_YEAR
from turnscrew.core.model.nearest import nearest
from turnscrew.core.model.person import People, Person
from turnscrew.core.model.terms import Terms
from turnscrew.files.json_text import Path
from turnscrew.files.refusal import refuse_if_any
from turnscrew.files.shape import Place, noun_of
from turnscrew.files.yaml_text import placed, read_tree
from turnscrew.files.yaml_write import Plain, flow, plain_of

_Fault = tuple[Path, str, str]


def read_terms(
    text: str, parts: Collection[str] | None = None, *, is_new: bool = False
) -> Terms:
    """
    Read the terms of a batch.

    Parameters
    ----------
    text
        The terms.
    parts
        Part numbers the terms may name; not checked without them.
    is_new
        True if devices are yet to get their numbers under these terms.

    Returns
    -------
    Terms
        The terms.

    Raises
    ------
    BadFileError
        If anything in the text does not fit, with all problems.
    """
    tree, told = read_tree(text, "keys such as batch: and customer:")
    problems = list(told)
    terms = noun_of(tree, Terms, Place((), problems))
    if isinstance(terms, Terms):
        faults = [*(_year_faults(terms) if is_new else ()), *_faults_in(terms, parts)]
        problems += [placed(tree, *fault) for fault in faults]
    refuse_if_any(problems)
    assert isinstance(terms, Terms)
    return terms


def read_people(text: str, skills: Collection[str] | None = None) -> dict[str, Person]:
    """
    Read who works in the workshop.

    Parameters
    ----------
    text
        The people.
    skills
        Sign-offs there are; not checked without them.

    Returns
    -------
    dict
        People by role, in the order of the text.

    Raises
    ------
    BadFileError
        If anything in the text does not fit, with all problems.
    """
    tree, told = read_tree(text, "people: and their short names under it")
    problems = list(told)
    people = noun_of(tree, People, Place((), problems))
    if isinstance(people, People):
        for path, found, wanted in _people_faults(people, skills):
            problems.append(placed(tree, path, found, wanted))
    refuse_if_any(problems)
    assert isinstance(people, People)
    return people.people


def _year_faults(terms: Terms) -> Iterator[_Fault]:
    """Find a year that the number of a device does not tell from another."""
    if not FIRST_YEAR <= terms.received.year <= LAST_YEAR:
        wanted = f"a day of the years {FIRST_YEAR} to {LAST_YEAR}"
        yield ("received",), str(terms.received), wanted


def _faults_in(terms: Terms, parts: Collection[str] | None) -> Iterator[_Fault]:
    for section in ("models", "faults"):
        if not getattr(terms, section):
            yield (section,), "none", "at least one"
    if not terms.calendar.week:
        yield ("calendar", "week"), "no day", "at least one working day"
    elif not terms.calendar.is_open(terms.received):
        yield ("received",), f"{terms.received}, a closed day", "a day worked"
    yield from _harvest_faults(terms)
    yield from _estimate_faults(terms)
    if parts is not None:
        yield from _unknown_parts(terms, parts)
    names = [tax.name for tax in terms.taxes]
    for name in {name for name in names if names.count(name) > 1}:
        yield ("taxes",), f"{name} twice", "each rate once"


def _harvest_faults(terms: Terms) -> Iterator[_Fault]:
    for name, model in terms.models.items():
        for key in ("harvest", "harvest_after_liquid"):
            for part in getattr(model, key):
                if part in terms.donors.never:
                    yield ("models", name, key), f"{part}, never harvested", "no pack"


def _estimate_faults(terms: Terms) -> Iterator[_Fault]:
    for name, model in terms.models.items():
        for revision in model.worth_estimated:
            if revision not in model.worth:
                path = ("models", name, "worth_estimated")
                yield path, f"{revision}, without a value", "a revision with a worth"


def parts_lacking(terms: Terms, parts: Collection[str]) -> tuple[str, ...]:
    """
    Name the parts that terms speak of and a list of parts does not have.

    Parameters
    ----------
    terms
        The terms.
    parts
        Numbers of the parts there are.

    Returns
    -------
    tuple[str, ...]
        Numbers, each once.
    """
    return tuple(dict.fromkeys(part for _, part, _ in _unknown_parts(terms, parts)))


def _unknown_parts(terms: Terms, parts: Collection[str]) -> Iterator[_Fault]:
    named: list[tuple[Path, str]] = []
    for name, model in terms.models.items():
        for key in ("opening_uses", "harvest", "harvest_after_liquid"):
            named += [(("models", name, key), part) for part in getattr(model, key)]
    for name, fault in terms.faults.items():
        named += [(("faults", name, "parts"), part) for part in fault.parts]
    for index, pair in enumerate(terms.look_alikes):
        named += [(("look_alikes", index, "parts"), part) for part in pair.parts]
    named += [(("donors", "never"), part) for part in terms.donors.never]
    named += [(("donors", "chances", part), part) for part in terms.donors.chances]
    for path, part in named:
        if part not in parts:
            wanted = nearest(part, tuple(parts)) or "a part of the parts list"
            yield path, part, wanted


def _people_faults(people: People, skills: Collection[str] | None) -> Iterator[_Fault]:
    if not people.people:
        yield ("people",), "nobody", "at least one person"
    if not any(person.minutes_a_day for person in people.people.values()):
        yield ("people",), "no bench minutes at all", "minutes for at least one person"
    names = [person.name.casefold() for person in people.people.values()]
    for role, person in people.people.items():
        if names.count(person.name.casefold()) > 1:
            yield ("people", role, "name"), f"{person.name} twice", "different names"
        for skill in person.skills:
            if skills is not None and skill not in skills:
                wanted = nearest(skill, skills) or "a sign-off of the terms"
                yield ("people", role, "skills"), skill, wanted


def without_customer(text: str) -> str:
    """
    Take what names the customer out of terms, so that it can be kept apart.

    Parameters
    ----------
    text
        The terms.

    Returns
    -------
    str
        The same terms without comments, as anybody may stand in them; the customer
        stands as on record elsewhere.

    Raises
    ------
    BadFileError
        If the text cannot be read.
    """
    return _written_anew(text, {"customer": {"name": "on record"}})


def without_names(text: str, instead: str) -> str:
    """
    Take the customer and the name of the batch out of terms.

    Parameters
    ----------
    text
        The terms.
    instead
        What the batch is called instead.

    Returns
    -------
    str
        The same terms without comments.

    Raises
    ------
    BadFileError
        If the text cannot be read.
    """
    return _written_anew(text, {"customer": {"name": "on record"}, "batch": instead})


def _written_anew(text: str, changes: Mapping[str, Plain]) -> str:
    tree, _ = read_tree(text)
    facts = {key: plain_of(node) for key, node in tree.items.items()}
    facts |= {key: value for key, value in changes.items() if key in facts}
    return "".join(f"{flow(key)}: {flow(value)}\n" for key, value in facts.items())
