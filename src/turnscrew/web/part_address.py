"""What does a part's number look like in the address of a page?"""

from urllib.parse import quote, unquote

from django.urls.converters import StringConverter

OWN_WORDS = ("goods-in", "known-good", "order", "returns", "waste")
"""Pages of the stock that a part of the same number would hide behind."""

_MARK = "~"


class PartNumberConverter(StringConverter):
    """
    A number as it is written, whatever it holds.

    One that an address cannot hold as it is, or that is a page's own name, is marked
    and written out in its bytes, with ``~`` for the usual ``%``: a server turns the
    usual form back before anybody can tell it from a part of the address.
    """

    def to_python(self, value: str) -> str:
        """Read a number out of an address."""
        if not value.startswith(_MARK):
            return value
        return unquote(value.removeprefix(_MARK).replace("~", "%"))

    def to_url(self, value: str) -> str:
        """Write a number into an address."""
        is_plain = "/" not in value and value.strip(".") and value not in OWN_WORDS
        if is_plain and not value.startswith(_MARK):
            return value
        spelt = quote(value, safe="").replace("~", "%7E")
        return _MARK + spelt.replace("%", "~")
