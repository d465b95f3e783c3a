"""How do open counts speak in a diagnosis: as base priors, and as words of signs?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from turnscrew.core.diagnose.denial import denied_in
from turnscrew.core.diagnose.learning import Rebased, kept_share, rebased
from turnscrew.core.diagnose.words import (
    OpenTexts,
    Told,
    WordLaw,
    known_in,
    leaned_on,
    own_words,
    p_labels,
    phrases_of,
    sign_laws,
    sort_laws,
    stems_of,
)
from turnscrew.core.model.faults import FaultTable
from turnscrew.core.model.nearest import wanted_name
from turnscrew.core.model.repair_record import RepairRecord
from turnscrew.core.model.wanted import refuse, unlike
from turnscrew.core.reliability.shares import dirichlet_prior
from turnscrew.errors import BadArgumentError
from turnscrew.flows.open_repairs import NOT_SORTED, PSEUDO_CASES, sign_counts

SignCounts = Mapping[tuple[str, str], Mapping[str, int]]
"""For category and sort of fault: texts with each sign, and under "" all texts."""

TAG_WORDS: Mapping[str, tuple[str, ...]] = {
    "access": ("password", "locked", "login", "account", "forgotten"),
    "audio": ("sound", "speaker", "microphone", "audio", "headphones"),
    "battery": ("battery",),
    "board": ("motherboard", "mainboard"),
    "boot": ("boot", "startup", "bios"),
    "button": ("button",),
    "camera": ("camera", "webcam"),
    "charger_cable": ("charger", "cable", "adapter", "supply"),
    "charging": ("charge",),
    "cracked": ("crack", "smashed", "shattered"),
    "crash": ("crash", "reboot", "restarts", "shutdown"),
    "data": ("data", "recover", "backup"),
    "dropped": ("dropped", "fell"),
    "heat_fan": ("fan", "overheats", "hot", "dust", "thermal"),
    "hinge_case": ("hinge", "case", "casing"),
    "keyboard": ("keyboard", "key"),
    "liquid": ("water", "liquid", "wet", "spilled"),
    "malware": ("virus", "malware", "antivirus"),
    "memory": ("memory", "ram"),
    "network": ("wifi", "internet", "bluetooth", "network", "signal"),
    "no_power": ("power", "dead", "turn", "switch", "start"),
    "noise": ("noise", "noisy"),
    "os_software": ("software", "system", "update", "install", "driver"),
    "pointing": ("mouse", "trackpad", "touchpad"),
    "port": ("port", "usb", "socket", "jack", "connector"),
    "screen": ("screen", "display", "lcd", "glass"),
    "slow": ("slow", "freezes", "performance"),
    "storage": ("disk", "drive", "ssd", "hdd", "storage"),
    "touch": ("touch", "touchscreen", "digitiser"),
}
"""
English words for the signs of the open counts. Chosen by us among the words that stand
beside each sign in the open record of repairs; a few more are common words for the same
thing, from memory. A test lays both beside the record.
"""


CLEAR = 0.6
"""A best sign less likely than this is asked after; a choice. [1]"""

BEYOND = 0.5
"""A likelier fault beyond the table is asked after; a choice. [1]"""

FEW_JOBS = 20
"""Own jobs below this are called few; a choice. [1]"""


@dataclass(frozen=True)
class WordsRead:
    """
    What was read from a customer's words.

    Parameters
    ----------
    text
        The words.
    sign
        The sign they are read as; empty if somebody must ask.
    is_exact
        True if they are a name or phrase of the table.
    signs
        Probability of each sign, the likeliest first; empty if no word is known. [1]
    sorts
        Probability of each sort of fault, the likeliest first. [1]
    by
        Words leaned on, the strongest first, as the customer said them.
    not_known
        Words that nothing is known of.
    n_own
        Own jobs of the family with the customer's words. [1]
    p_beyond
        Probability of the sorts that no fault of the table is counted as. [1]
    denied
        Words leaned on that the customer rather denies.
    """

    text: str
    sign: str
    is_exact: bool = False
    signs: dict[str, float] = field(default_factory=dict)
    sorts: dict[str, float] = field(default_factory=dict)
    by: tuple[str, ...] = ()
    not_known: tuple[str, ...] = ()
    n_own: int = 0
    p_beyond: float = 0.0
    denied: tuple[str, ...] = ()


@dataclass(frozen=True)
class OpenBase:
    """
    What an open record or its counts say, by category and sort of fault.

    Parameters
    ----------
    n_jobs
        Jobs whose sort of fault is known. [1]
    words
        How often each stem stands in their texts. [1]
    """

    n_jobs: Mapping[str, Mapping[str, int]]
    words: Mapping[str, Mapping[str, Mapping[str, float]]]


def base_of_counts(counts: SignCounts) -> OpenBase:
    """
    Take what counts of signs say; each sign is spread evenly over its plain words.

    Parameters
    ----------
    counts
        The counts; sorts that say that nobody could tell are left out.

    Returns
    -------
    OpenBase
        Jobs and words.
    """
    n_jobs: dict[str, dict[str, int]] = {}
    words: dict[str, dict[str, dict[str, float]]] = {}
    for (category, sort), of in counts.items():
        if sort not in NOT_SORTED:
            n_jobs.setdefault(category, {})[sort] = of.get("", 0)
            words.setdefault(category, {})[sort] = words_of_tags(of)
    return OpenBase(n_jobs, words)


def base_of_records(records: Iterable[RepairRecord]) -> OpenBase:
    """
    Take what an open record says: words of its texts, and plain words of its signs.

    The texts tell more words, the signs are read from every language.

    Parameters
    ----------
    records
        The record; rows whose sort of fault nobody told are left out.

    Returns
    -------
    OpenBase
        Jobs and words.
    """
    rows = [record for record in records if record.fault not in NOT_SORTED]
    counted = base_of_counts(sign_counts(rows))
    words = {
        category: {sort: dict(of) for sort, of in sorts.items()}
        for category, sorts in counted.words.items()
    }
    for record in rows:
        of = words[record.category][record.fault]
        for stem in stems_of(record.problem):
            of[stem] = of.get(stem, 0.0) + 1.0
    return OpenBase(counted.n_jobs, words)


def words_of_tags(tags: Mapping[str, int]) -> dict[str, float]:
    """
    Spread counts of open signs evenly over their plain words.

    Parameters
    ----------
    tags
        Texts that bear each sign. [1]

    Returns
    -------
    dict
        Counts by stem; signs without plain words are left out. [1]
    """
    words: dict[str, float] = {}
    for tag, n in tags.items():
        stems = [stem for word in TAG_WORDS.get(tag, ()) for stem in stems_of(word)]
        for stem in stems:
            words[stem] = words.get(stem, 0.0) + n / len(stems)
    return words


def texts_for(table: FaultTable, base: OpenBase) -> OpenTexts:
    """
    Take the category in which a family is counted.

    Parameters
    ----------
    table
        The fault table.
    base
        What the open counts say.

    Returns
    -------
    OpenTexts
        Jobs and words of its category; upper and lower case count as one.

    Raises
    ------
    BadArgumentError
        If the table names no category, or the counts have none of that name.
    """
    wanted = table.prior.counted_in
    for category, n_jobs in base.n_jobs.items():
        if category.lower() == wanted.lower():
            return OpenTexts(category, n_jobs, base.words.get(category, {}))
    hint = (
        wanted_name(wanted, base.n_jobs) if base.n_jobs else "counts by sort of fault"
    )
    found = wanted or "nothing"
    raise BadArgumentError(f"prior.counted_in: found {found}, wanted {hint}")


def on_open_counts(
    table: FaultTable, texts: OpenTexts, *, pseudo_cases: float = PSEUDO_CASES
) -> Rebased:
    """
    Put a fault table on the base priors of open counts.

    Parameters
    ----------
    table
        The fault table as written.
    texts
        Open counts of its category.
    pseudo_cases
        Own cases that the priors weigh, the faults that keep their share included. [1]

    Returns
    -------
    Rebased
        The table with its new weights, and the sentences to say with them.

    Raises
    ------
    BadArgumentError
        If the weight is not above zero, or no fault with a weight is counted as a sort
        that was counted at all.
    """
    refuse(unlike("pseudo_cases", pseudo_cases, above=0, most=1_000_000))
    named = {sort for fault in table.faults.values() for sort in fault.counted_as}
    counts = {sort: n for sort, n in texts.n_jobs.items() if n and sort in named}
    kept = kept_share(table, counts)
    if not counts or kept >= 1:
        found = ", ".join(sorted(named)) or "nothing"
        known = ", ".join(sort for sort, n in texts.n_jobs.items() if n)
        raise BadArgumentError(f"counted_as: found {found}, wanted some of {known}")
    prior = dirichlet_prior(counts, pseudo_cases=pseudo_cases * (1 - kept))
    return rebased(
        table,
        prior,
        cases=pseudo_cases,
        source=f"open counts of {sum(counts.values()):,} repairs ({texts.category})"
        " whose sort of fault this table knows",
    )


def read_words(
    table: FaultTable,
    text: str,
    told: Sequence[Told] = (),
    texts: OpenTexts | None = None,
    *,
    open_cases: float,
) -> WordsRead:
    """
    Read a customer's words as a sign, or say that somebody must ask.

    Parameters
    ----------
    table
        The fault table, best as closed jobs have taught it.
    text
        The words.
    told
        Closed jobs with the customers' words.
    texts
        Open counts of the table's category, if there are any.
    open_cases
        Own cases that the open counts weigh. [1]

    Returns
    -------
    WordsRead
        The sign, if it is a phrase of the table or at least ``CLEAR`` likely by words
        that speak for it; else no sign, with the nearest ones. Words that were never
        said of the sign itself do not do if they rather tell a sort of fault beyond the
        table; nor does a sign do for which a word speaks that is denied.

    Raises
    ------
    BadArgumentError
        If the text holds no word, the table has no signs, or a weight is negative.
    """
    has_words = any(map(str.isalpha, text))
    refuse(
        "" if has_words else f"words: found {text!r}, wanted some words",
        "" if table.signs else "signs: found none in the table, wanted at least one",
        unlike("open_cases", open_cases, above=0),
    )
    n_own = len(own_words(table, told))
    phrases = phrases_of(table)
    exact = phrases.get(text.strip().lower())
    if exact is not None:
        return WordsRead(text, exact, is_exact=True, signs={exact: 1.0}, n_own=n_own)
    stems = stems_of(text)
    laws = sign_laws(table, told, texts)
    known = {stem: said for stem, said in stems.items() if known_in(laws, stem)}
    signs = p_labels(laws, known) if known else {}
    best = next(iter(signs), "")
    by = leaned_on(laws, best, known) if best else ()
    sorts = _p_sorts(sort_laws(table, told, texts, open_cases=open_cases), stems)
    named = {sort for fault in table.faults.values() for sort in fault.counted_as}
    p_beyond = sum(p for sort, p in sorts.items() if sort not in named)
    own = sign_laws(table, told)[best].words if best else {}
    is_own = any(stems.get(stem) in by for stem in own)
    no = denied_in(text, phrases)
    denied = tuple(said for stem, said in stems.items() if stem in no and said in by)
    is_clear = bool(by) and signs[best] >= CLEAR and (is_own or p_beyond <= BEYOND)
    return WordsRead(
        text,
        best if is_clear and not denied else "",
        signs=signs,
        sorts=sorts,
        by=by,
        not_known=tuple(said for stem, said in stems.items() if stem not in known),
        n_own=n_own,
        p_beyond=p_beyond,
        denied=denied,
    )


def _p_sorts(laws: Mapping[str, WordLaw], stems: Iterable[str]) -> dict[str, float]:
    heard = [stem for stem in stems if known_in(laws, stem)]
    return p_labels(laws, heard) if heard else {}


def said_of(read: WordsRead) -> tuple[str, ...]:
    """
    Say what a customer's words were read as, or what to ask.

    Parameters
    ----------
    read
        What was read.

    Returns
    -------
    tuple
        Sentences.
    """
    if read.is_exact:
        return (f"read as: {read.sign} (a phrase of the table)",)
    by = f"by words {', '.join(read.by)}" if read.by else "by no word of its own"
    if read.sign:
        said = [f"read as: {read.sign} (probability {read.signs[read.sign]:.2f}, {by})"]
    elif read.signs:
        said = [
            f"not clear: may be {_ranked(read.signs)} ({by}); ask which, one or more,"
            " and give it with --sign"
        ]
    else:
        said = [
            "unknown: no word of these tells a sign; ask what is seen, and give it"
            " with --sign"
        ]
    if read.denied:
        said.append(f"perhaps denied by the customer: {', '.join(read.denied)}")
    if read.sorts:
        beyond = f"; {read.p_beyond:.2f} beyond this table" if read.p_beyond else ""
        said.append(f"sorts of fault by the words: {_ranked(read.sorts)}{beyond}")
    if read.not_known:
        said.append(f"words nothing is known of: {', '.join(read.not_known)}")
    if read.n_own < FEW_JOBS:
        said.append(f"few own jobs with words to learn from: {read.n_own}")
    return tuple(said)


def _ranked(p: Mapping[str, float]) -> str:
    return ", ".join(f"{name} {share:.2f}" for name, share in list(p.items())[:3])
