"""The command ``turnscrew cards``: the papers that hang in the workshop."""

from pathlib import Path
from typing import Annotated

import typer

from turnscrew.cli.writing import write_whole

app = typer.Typer()


@app.command()
def cards(
    people: Annotated[Path, typer.Argument(help="The people (people.yaml).")],
    out: Annotated[Path, typer.Option(help="Write the cards (PDF) here.")],
    paper: Annotated[str, typer.Option(help="a4 or letter.")] = "a4",
    language: Annotated[str, typer.Option(help="Of the cards, as de.")] = "",
) -> None:
    """
    Print the cards of the workshop: for emergencies, and one for each person.

    The emergency card hangs by each bench and is filled in by hand. A helper card says
    what somebody may do alone; days and signatures are written on it, or come from the
    records with the card on the person's page.
    """
    from turnscrew.cli.opening import paper_in  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.reading import people_from  # noqa: PLC0415 - slow libraries
    from turnscrew.cli.said import wording_from  # noqa: PLC0415 - slow libraries
    from turnscrew.papers.bench.emergency_card import (  # noqa: PLC0415
        emergency_card,
    )
    from turnscrew.papers.bench.helper_card import (  # noqa: PLC0415
        SignedSkill,
        helper_card,
    )

    page, said = paper_in(paper, wording_from(language)), language or "en"
    known = people_from(people)
    out.mkdir(parents=True, exist_ok=True)
    made = {"emergency-card.pdf": emergency_card(page, said)}
    for role, person in known.items():
        skills = [SignedSkill(skill) for skill in person.skills]
        made[f"helper-card-{role}.pdf"] = helper_card(
            person.name, role, skills, page, said
        )
    for name, content in made.items():
        write_whole(out / name, content)
        print(out / name)
