"""What can be entered on the pages of the descriptions?"""

from dataclasses import replace
from typing import Any

from django import forms

from turnscrew.errors import BadFileError
from turnscrew.files.yaml_text import decode
from turnscrew.web.counter.fields import Chosen, text, words


class TextBrought(forms.Form):
    """A text as a file or typed in; a file refused stands in the field for typing."""

    file = forms.FileField(label="Description, a .device.yaml file", required=False)
    faults = forms.FileField(label="Fault table, a .faults.yaml file", required=False)
    faults_text = text("or the fault table itself", rows=5)
    text = text("or the description itself", rows=14)
    field_order = ["file", "text", "faults", "faults_text"]

    def clean(self) -> dict[str, Any]:
        entered: dict[str, Any] = super().clean() or {}
        for field in ("text", "faults_text"):
            # A browser ends lines in its own way; a text sent back unchanged is none.
            entered[field] = entered.get(field, "").replace("\r\n", "\n")
        shown: dict[str, Any] = {}
        for file, field in (("file", "text"), ("faults", "faults_text")):
            sent = entered.get(file)
            if sent is None:
                continue
            try:
                entered[field] = decode(sent.read())
            except BadFileError as error:
                for problem in error.problems:
                    self.add_error(file, str(replace(problem, file=sent.name)))
            else:
                shown[field] = entered[field]
        self.data = {**self.data.dict(), **shown}  # type: ignore[attr-defined]
        if not self.errors and not entered.get("text", "").strip():
            self.add_error("text", "found none, wanted a file or the text itself")
        return entered


class DescriptionBrought(TextBrought):
    model = words("Model, its short name as in the terms", needed=True, most=40)
    field_order = ["model", *TextBrought.field_order]


class TextEdited(TextBrought):
    # It stays as it was entered when the text is refused: only a person knows whether
    # the changes of a newer version stand in it by now.
    written_from = forms.IntegerField(
        label="Written from version", min_value=1, max_value=1_000_000
    )
    field_order = [*TextBrought.field_order, "written_from"]


class MayTry(Chosen):
    chooses = "who"

    who = forms.ChoiceField(label="Who may try it")


class VersionWithdrawn(Chosen):
    chooses = "version"

    version = forms.ChoiceField(label="Version")


class PartNumbered(Chosen):
    chooses = "part"

    part = forms.ChoiceField(label="Part of the description")
    number = words("Part number on record", needed=True, most=40)


class FactCorrected(forms.Form):
    where = words("Fact, as the list of what is lacking names it", needed=True)
    value = words("What is right", needed=True)
