"""Do the commands print their answers in German, without a figure lost?"""

import random
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from example_files import example_file
from flows.bench.test_german_lines import said_by_the_examples
from random_batches import BROKEN, drawn_batch
from turnscrew.cli import diagnose
from turnscrew.cli.batch_folder import folder_from
from turnscrew.cli.batch_lines import lines_of
from turnscrew.cli.main import run
from turnscrew.cli.said import Says, Wording, phrases_of, said, says_in
from turnscrew.core.diagnose.replay import Replayed
from turnscrew.core.model.notation import Notation
from turnscrew.core.model.past_job import PastJob
from turnscrew.flows.batch.whole import Effort, batch_reckoned
from turnscrew.papers.batch.speech import Speech
from turnscrew.papers.set_aside import plain

ROOT = Path(__file__).parents[2]
BATCH = ROOT / "examples" / "sallowmere"
SHOWN = (
    ("pellorin-l240", "B", ("upper case", "fan")),
    ("tavistle-v80", "2", ("camera", "pack")),
    ("grondle-r50", "K", ("keypad membrane",)),
)
ASKED = {
    "pellorin-l240": ("--sign", "will not charge", "--tree"),
    "tavistle-v80": ("--sign", "cannot hear calls", "--tree"),
    "grondle-r50": ("--words", "the red line is gone since it fell"),
}


def printed(capsys, *args: str) -> str:
    with pytest.raises(SystemExit) as ended:
        run([*args])
    told = capsys.readouterr()
    assert not ended.value.code, told.err
    return str(told.out)


def both(capsys, *args: str) -> tuple[str, str]:
    return printed(capsys, *args), printed(capsys, *args, "--language", "de")


def figures(text: str) -> Counter[int]:
    """Count the numbers, but for those of days: German names their months."""
    bare = re.sub(r"20\d\d-\d\d-\d\d|\d+\.? [A-Z][a-zä]+\.? 20\d\d", "", text)
    whole = re.sub(r"(?<=\d)[.,](?=\d{3}\b)", "", bare)
    return Counter(map(int, re.findall(r"\d+", whole)))


@pytest.mark.parametrize(
    "args",
    [
        ("batch", str(BATCH), "--effort", "0.2", "--plays", "50"),
        ("batch", str(BATCH), "--effort", "0", "--plays", "20", "--no-donors",
         "--away", "lead=2-9", "--away", "helper=1-4"),
        ("batch", str(BATCH), "--to-come", "40 V80", "--to-come", "1 R50"),
        ("fleet", str(ROOT / "examples" / "fleet-history.csv"),
         "--replace", "V80=389.00/5", "--lacking", "12.00", "--over", "3.00"),
        ("follows", str(ROOT / "examples" / "adapter-spells.csv")),
    ],
)  # fmt: skip
def test_nothing_is_left_in_english_and_no_figure_out(capsys, args) -> None:
    english, german = both(capsys, *args)

    assert "„" not in german
    assert figures(english) == figures(german)
    assert len(english.splitlines()) == len(german.splitlines())


@pytest.mark.parametrize("name", ASKED)
def test_it_advises_in_german_but_for_the_words_of_the_table(
    capsys, monkeypatch, name
) -> None:
    english: list[str] = []

    def kept(lines: Iterable[str], says: Says) -> Iterator[str]:
        lines = tuple(lines)
        english.extend(map(plain, lines))
        return said(lines, says)

    monkeypatch.setattr(diagnose, "said", kept)
    files = (str(example_file(f"{name}.faults.yaml")), "--device",
             str(example_file(f"{name}.device.yaml")))  # fmt: skip
    german = printed(capsys, "diagnose", *files, *ASKED[name], "--language", "de")

    assert "„" not in german
    assert "Als Nächstes: " in german
    assert figures("\n".join(english)) == figures(german)


def test_it_says_in_german_what_closed_jobs_tell(capsys) -> None:
    told = printed(
        capsys, "diagnose", str(example_file("pellorin-l240.faults.yaml")),
        "--device", str(example_file("pellorin-l240.device.yaml")), "--language", "de",
        "--history", str(ROOT / "examples" / "workshop-history.csv"), "--replay",
        "--seconds", "0.1",
    )  # fmt: skip

    assert "„" not in told
    assert "2 weggelassen: kein Fehler dieser Tabelle wurde bestätigt" in told


def test_closed_jobs_that_cost_nothing_are_compared_by_no_share(
    capsys, monkeypatch
) -> None:
    job = PastJob("Pellorin L240", "no fault found", "keys dead")
    found = (Replayed(job, done_min=0.0, advised_min=12.0),)
    monkeypatch.setattr(diagnose, "replayed", lambda *_: found)
    asked = (
        "diagnose", str(example_file("pellorin-l240.faults.yaml")),
        "--device", str(example_file("pellorin-l240.device.yaml")),
        "--history", str(ROOT / "examples" / "workshop-history.csv"), "--replay",
    )  # fmt: skip
    english = printed(capsys, *asked).splitlines()
    german = printed(capsys, *asked, "--language", "de").splitlines()

    assert "1 job: 0 min as done, 12 min expected by the advice" in english
    assert "1 Arbeit: 0 min wie getan, 12 min nach dem Rat zu erwarten" in german
    assert german[-1].endswith(
        " weggelassen: was getan wurde, ist nicht in Namen dieser Tabelle gesagt"
    )


@pytest.mark.parametrize(("name", "revision", "reach"), SHOWN)
def test_it_says_the_way_in_german_but_for_the_words_of_the_description(
    capsys, name, revision, reach
) -> None:
    wanted = [word for part in reach for word in ("--reach", part)]
    german = printed(
        capsys, "opening", str(example_file(f"{name}.device.yaml")), "--revision",
        revision, *wanted, "--language", "de",
    )  # fmt: skip
    own = said_by_the_examples()
    left = [
        words
        for words in re.findall("„(.*?)“", german)
        if not all(word.rstrip(".").lower() in own for word in words.split(", "))
    ]

    assert [] == left
    for head in ("Weg hinein", "Weg zurück", "Vor dem Schliessen"):
        assert f"\n{head}\n" in german
    assert "Lötleitung" not in german


def test_it_says_that_there_is_no_way(capsys) -> None:
    told = printed(
        capsys, "opening", str(example_file("tavistle-v80.device.yaml")), "--reach",
        "pack", "--already-off", "pack", "--language", "de",
    )  # fmt: skip

    assert "zu erreichen: " in told


@pytest.mark.parametrize("seed", range(40))
def test_it_prints_batches_drawn_at_random_in_german(seed) -> None:
    batch, what_if = drawn_batch(folder_from(BATCH), seed)
    draw = random.Random(seed)
    effort = Effort(0.05, 5, lambda: draw.gauss(0, 1))
    answer = batch_reckoned(batch, what_if, lambda _line: None, effort)
    speech = Speech(answer, "de", Notation(), phrases_of("batch"))

    english = "\n".join(said(lines_of(answer), None))
    german = "\n".join(said(lines_of(answer), speech.line))
    assert "„" not in german
    assert None is BROKEN.search(english)
    assert None is BROKEN.search(german)


def test_a_column_keeps_its_place_where_the_words_fit() -> None:
    says = says_in(Wording("de"), "batch")
    lines = ("  total               3,818.78", "  [ ]  3  A   repairs  (5 s)")
    wanted = ("  Summe               3.818,78", "  [ ]  3  A   Reparaturen  (5 s)")

    assert wanted == tuple(said(lines, says))


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (("--decimal", "comma"), ("front glass cracked: 116,12, by", " 3.712,18\n")),
        (("--decimal", "point", "--language", "de"),
         ("front glass cracked: 116.12, bis", " 3,712.18\n")),
    ],
)  # fmt: skip
def test_the_decimal_sign_is_chosen_apart_from_the_language(
    capsys, args, words
) -> None:
    told = printed(capsys, "batch", str(BATCH), "--effort", "0", "--plays", "5", *args)

    for one in words:
        assert one in told


def test_inches_stand_beside_millimetres_there_too(capsys) -> None:
    told = printed(
        capsys, "opening", str(example_file("tavistle-v80.device.yaml")), "--reach",
        "camera", "--lengths", "inch", "--decimal", "comma",
    )  # fmt: skip

    # 60 mm / 25.4 mm = 2.362 in, to two decimals more than the millimetres have.
    assert "suction cup: 60 mm (2,36 in)" in told


@pytest.mark.parametrize(
    ("option", "word", "refusal"),
    [
        ("--decimal", "semicolon", "decimal semicolon, wanted point or comma"),
        ("--lengths", "ell", "lengths ell, wanted mm or inch"),
    ],
)
def test_it_refuses_a_sign_or_a_length_it_does_not_know(
    capsys, option, word, refusal
) -> None:
    file = str(example_file("tavistle-v80.device.yaml"))
    with pytest.raises(SystemExit) as ended:
        run(["opening", file, "--reach", "camera", option, word])

    assert 2 == ended.value.code
    assert refusal in capsys.readouterr().err


@pytest.mark.parametrize("command", ["batch", "diagnose", "fleet", "follows"])
def test_it_refuses_a_language_it_does_not_have(command, capsys) -> None:
    args = {
        "batch": (str(BATCH), "--to-come", "1 V80"),
        "diagnose": (str(example_file("grondle-r50.faults.yaml")), "--device",
                     str(example_file("grondle-r50.device.yaml"))),
        "fleet": (str(ROOT / "examples" / "fleet-history.csv"),),
        "follows": (str(ROOT / "examples" / "adapter-spells.csv"),),
    }[command]  # fmt: skip
    with pytest.raises(SystemExit) as ended:
        run([command, *args, "--language", "fr"])

    assert 2 == ended.value.code
    assert "language fr, wanted de" in capsys.readouterr().err
