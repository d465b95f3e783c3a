"""How are sound texts spoilt, by chance and on purpose?"""

import io
import zipfile
from collections.abc import Callable, Mapping

from hypothesis import strategies as st

CHUNKS = (
    b"\0", b"\r", b"\n", b"\r\n", b"\t", b" ", b'"', b'""', b"'", b",", b";", b":",
    b"{", b"}", b"[", b"]", b"&a ", b"*a", b"!!python/object:os.system ",
    b"%YAML 9.9\n",
    b"---\n", b"...\n", b"<<: *a\n", b"? ", b"| ", b"> ", b"- ", b"#", b"null", b"~",
    b"NaN", b"nan", b"Infinity", b"-inf", b"1e999", b"-0", b"1e-999", b"0x1F", b"1_000",
    b"9" * 400, b"-" + b"9" * 5000, b"1" * 25 + b"." + b"3" * 25, b"1,5", b"1.234,56",
    b"\xff\xfe", b"\xef\xbb\xbf", b"\xfe\xff", b"\xff", b"\xc3", b"\xed\xa0\x80",
    "\u202eabc\u202c".encode(), "\u2028".encode(), "\x85".encode(), "١٢٣".encode(),
    "²".encode(), "\U0001f600".encode(), "ﬀ".encode(), "İ".encode(), b"\\ud800",
    b"=1+1", b"=cmd|' /C calc'!A0", b"@SUM(A1)", b"2027-02-30", b"0000-00-00",
    b"9999-12-31", b"10000-01-01", b"true", b"NO", b"1:30", b"__proto__", b"../../x",
    b"PK\x03\x04", b"%s%n{0}{x}", b"A" * 3000, b"[" * 40, b"{a: " * 40, b"  " * 200,
)  # fmt: skip
"""What makes readers stumble, put in between sound bytes."""

_places = st.floats(0, 1, allow_nan=False)
_spoils = st.one_of(
    st.tuples(st.just("put"), _places, st.sampled_from(CHUNKS)),
    st.tuples(st.just("over"), _places, st.sampled_from(CHUNKS)),
    st.tuples(st.just("byte"), _places, st.binary(min_size=1, max_size=3)),
    st.tuples(st.just("cut"), _places, st.integers(1, 400)),
    st.tuples(st.just("again"), _places, st.integers(1, 400)),
    st.tuples(st.just("swap"), _places, st.integers(1, 60)),
    st.tuples(st.just("end"), _places, st.just(0)),
)
spoils = st.lists(_spoils, min_size=1, max_size=4)


def spoilt(content: bytes, how: list[tuple[str, float, bytes | int]]) -> bytes:
    """Spoil a text in some places, one after the other."""
    for act, share, more in how:
        at = int(share * len(content))
        before, after = content[:at], content[at:]
        if isinstance(more, bytes):
            put = more if act != "byte" else bytes(more)
            content = before + put + (after if act == "put" else after[len(put) :])
        elif act == "cut":
            content = before + after[more:]
        elif act == "again":
            content = before + after[:more] * 2 + after[more:]
        elif act == "swap":
            content = before + after[more : 2 * more] + after[:more] + after[2 * more :]
        else:
            content = before
    return content


def garbage() -> Mapping[str, bytes | Callable[[], bytes]]:
    """Give texts that are made to harm a reader, by name; large ones when asked."""
    lines = "".join(f"a{n}: [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 40))
    return {
        "nothing": b"",
        "a blank": b" ",
        "a mark alone": b"\xef\xbb\xbf",
        "a mark of 16 bits alone": b"\xff\xfe",
        "half a letter of 16 bits": b"\xff\xfea",
        "zero bytes": bytes(1000),
        "zero among text": b"a,b\n1,\0\n",
        "32 bits": "parts: 1".encode("utf-32"),
        "16 bits without a mark": "part,cost\nA,1".encode("utf-16-le"),
        "older letters": "part,cost\nG\xfcte,1".encode("cp1252"),
        "returns alone": b"part,description,fits,cost\rA,B,C,1\rD,E,F,2\r",
        "lists in lists": b"[" * 100_000,
        "lists in lists, closed": b"[" * 500 + b"]" * 500,
        "keys in keys": b'{"a":' * 100_000,
        "keys in keys, closed": b'{"a":' * 400 + b"1" + b"}" * 400,
        "rows in rows": b"- " * 50_000,
        "deeper and deeper": b"".join(b" " * n + b"a:\n" for n in range(1200)),
        "questions in questions": b"? " * 5000,
        "a name for a name": b"a0: &a0 [x, x]\n" + lines.encode(),
        "a thing in itself": b"&a [*a]",
        "merged": b"a: &a {b: 1}\nc: {<<: *a}\n",
        "a tag": b"!!python/object/apply:os.system ['echo 1']",
        "two documents": b"a: 1\n---\nb: 2\n",
        "one key twice": b'{"a": 1, "a": 2}',
        "one key twice in lines": b"a: 1\na: 2\n",
        "no number": b'{"a": NaN, "b": Infinity, "c": -Infinity}',
        "a number of 5,000 digits": b'{"a": ' + b"9" * 5000 + b"}",
        "an exponent without end": b'{"a": 1e99999999}',
        "half a letter, escaped": b'{"\\ud800": "\\udfff"}',
        "a million letters": b"a: " + b"x" * 900_000,
        "a million letters in a cell": b"part,cost\n" + b"y" * 1_000_000 + b",1\n",
        "a million letters in quotes": b'part,cost\n"' + b"y" * 1_000_000,
        "a quote without end": b'part,description,fits\n"A,B,C\nD,E,F\n' * 2000,
        "a hundred thousand columns": b"a," * 100_000 + b"\n",
        "formulas": b"part,description,fits,cost\n=1+1,@SUM(A1),+2,-3\n",
        "a heading twice": b"part,part,cost\nA,B,1\n",
        "a photo": b"\xff\xd8\xff\xe0" + bytes(range(256)) * 20,
        "a page": b"<html><script>alert(1)</script></html>",
        "a bomb of entities": b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>',
        "a package of nothing": _packed({}),
        "a package of itself": _packed({"xl/workbook.xml": b"<a/>"}),
        "a package of 150 MB": lambda: _packed({"s.xml": b" " * 150_000_000}),
        "a package of 300 MB": lambda: _packed({"s.xml": b" " * 300_000_000}),
        "a package of cells without end": lambda: _packed(
            {"xl/worksheets/s.xml": b"<s>" + b"<c/>" * 30_000_000 + b"</s>"}
        ),
        "a package with a way out": _packed({"../../x.xml": b"<a/>"}),
        "a package of entities": _packed(
            {"content.xml": b'<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>'}
        ),
        "a package in a package": _packed({"a.xml": _packed({"b.xml": b"<c/>"})}),
    }


def _packed(files: Mapping[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as packed:
        for name, content in files.items():
            packed.writestr(name, content)
    return out.getvalue()
