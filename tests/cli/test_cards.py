"""Does the command print the cards that hang in the workshop?"""

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


def test_it_names_file_and_line_of_what_it_cannot_read(tmp_path) -> None:
    people = tmp_path / "people.yaml"
    people.write_text("people:\n  lead:\n    name: Imke Vasterling\n    pay: 3\n")
    done = turnscrew("cards", people, "--out", tmp_path / "out")

    assert 2 == done.returncode
    assert f"{people}:4:5: people.lead.pay: found the unknown key pay" in done.stderr
    assert not (tmp_path / "out").exists()
