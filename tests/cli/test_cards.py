"""Does the command print the cards that hang in the workshop?"""

import pypdfium2

from shell import turnscrew

PEOPLE = "examples/sallowmere/people.yaml"


def test_it_prints_one_for_emergencies_and_one_for_each_person(tmp_path) -> None:
    done = turnscrew("cards", PEOPLE, "--out", tmp_path / "out", "--paper", "letter")

    assert 0 == done.returncode, done.stderr
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names == {
        "emergency-card.pdf", "helper-card-lead.pdf", "helper-card-helper.pdf",
    }  # fmt: skip
    assert len(names) == len(done.stdout.splitlines())


def test_it_prints_them_in_german(tmp_path) -> None:
    done = turnscrew("cards", PEOPLE, "--out", tmp_path, "--language", "de")
    card = pypdfium2.PdfDocument(tmp_path / "helper-card-helper.pdf")[0]

    assert 0 == done.returncode, done.stderr
    assert "Karte der Person" in card.get_textpage().get_text_bounded()


def test_it_refuses_a_language_it_does_not_have(tmp_path) -> None:
    done = turnscrew("cards", PEOPLE, "--out", tmp_path / "out", "--language", "xx")

    assert 2 == done.returncode
    assert "language xx, wanted de" in done.stderr


def test_it_names_file_and_line_of_what_it_cannot_read(tmp_path) -> None:
    people = tmp_path / "people.yaml"
    people.write_text("people:\n  lead:\n    name: Imke Vasterling\n    pay: 3\n")
    done = turnscrew("cards", people, "--out", tmp_path / "out")

    assert 2 == done.returncode
    assert f"{people}:4:5: people.lead.pay: found the unknown key pay" in done.stderr
    assert not (tmp_path / "out").exists()
