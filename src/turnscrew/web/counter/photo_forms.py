"""What can be entered on the pages of photos?"""

from django import forms

from turnscrew.core.photo.drawing import MARK_KINDS
from turnscrew.web.counter.fields import TextAsShown, choice, words


def per_cent(label: str, *, needed: bool = True) -> forms.FloatField:
    """Give a field for a place on the photo."""
    return forms.FloatField(
        label=f"{label} [%]",
        required=needed,
        min_value=0,
        max_value=100,
        widget=forms.NumberInput(attrs={"step": "0.1", "inputmode": "decimal"}),
    )


class AddPhoto(forms.Form):
    photo = forms.FileField(
        label="Photo",
        help_text="JPEG, PNG or WebP; where it was taken is not kept",
        widget=forms.ClearableFileInput(
            attrs={"accept": "image/*", "capture": "environment"}
        ),
    )
    caption = words("What it shows", most=200)
    key = forms.RegexField("^[0-9a-zA-Z-]{8,64}$", widget=forms.HiddenInput)


class AddMark(forms.Form):
    kind = choice("Mark", [str(kind) for kind in MARK_KINDS])
    x = per_cent("From the left")
    y = per_cent("From the top")
    to_x = per_cent("Arrow to, from the left", needed=False)
    to_y = per_cent("Arrow to, from the top", needed=False)
    says = words("Words", most=60)


class AddMask(forms.Form):
    left = per_cent("Left edge")
    top = per_cent("Upper edge")
    right = per_cent("Right edge")
    bottom = per_cent("Lower edge")


class Looked(forms.Form):
    """An act on what the page shows, which it tells again."""

    looked_at = TextAsShown(max_length=64)


class Numbered(Looked):
    n = forms.IntegerField(label="Number in the list", min_value=1, max_value=100)


class Clear(Looked):
    seen = forms.ChoiceField(
        label="I looked at the whole photo",
        widget=forms.RadioSelect,
        choices=[
            ("masked", "the masks hide all that is private"),
            ("nothing", "nothing private is seen"),
        ],
        help_text="names, faces, screens, letters, keys, stickers with numbers",
    )


class Remove(forms.Form):
    why = words("Why", needed=True)
