"""Can every command be told apart by code and by key?"""

from collections import Counter

from turnscrew.core.bench.commands import COMMANDS, PREFIX


def keys() -> list[str]:
    return [key for c in COMMANDS for key in (c.key, c.also) if key]


def test_no_code_stands_for_two_commands() -> None:
    assert len(COMMANDS) == len({command.code for command in COMMANDS}) == 53


def test_no_code_begins_as_another_one_ends() -> None:
    for command in COMMANDS:
        assert command.code.startswith(PREFIX)
        assert 1 == command.code.count(PREFIX)


def test_only_enter_is_two_keys_in_one() -> None:
    assert {"Enter": 2} == {key: n for key, n in Counter(keys()).items() if n > 1}
    both = {c.code for c in COMMANDS if "Enter" in (c.key, c.also)}
    assert {"TS-DONE", "TS-ENTER"} == both


def test_no_group_says_the_same_word_twice() -> None:
    words = [(command.group, command.word) for command in COMMANDS]

    assert len(words) == len(set(words))


def test_a_kind_is_told_by_its_code() -> None:
    kinds = {c.kind for c in COMMANDS if c.group == "joints"}

    assert {
        "screw", "clip", "socket", "plug", "bond", "latch", "slide", "hook", "pin",
        "press", "seal", "cover", "contact", "lead", "other",
    } == kinds  # fmt: skip
    assert {"frame", "turn"} <= {c.kind for c in COMMANDS if c.group == "parts"}
    assert list("0123456789") == [
        c.kind for c in COMMANDS if c.group == "numbers" and c.kind.isdigit()
    ]
