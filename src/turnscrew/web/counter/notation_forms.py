"""What can be chosen of how figures read?"""

from django import forms


class NotationChosen(forms.Form):
    lengths = forms.ChoiceField(
        label="Lengths",
        choices=[("mm", "millimetres"), ("inch", "millimetres, inches beside them")],
    )
    sign = forms.ChoiceField(
        label="Decimal sign",
        choices=[
            ("", "as the language has it"),
            ("point", "point, as in 1.5"),
            ("comma", "comma, as in 1,5"),
        ],
        required=False,
    )
    week = forms.ChoiceField(
        label="First day of the week",
        choices=[("monday", "Monday"), ("saturday", "Saturday"), ("sunday", "Sunday")],
    )
