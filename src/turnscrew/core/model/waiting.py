"""Why does a device wait, where nobody wrote a reason of their own?"""

FOR_ANSWER = "the customer's yes or no to the quote"
BAD_PACK = "pack swollen, hot, or its state not known"
YES_TO_OPEN_AGAIN = (
    "the customer said yes, but it was closed up as it is: open it again"
)
YES_GO_ON = "the customer said yes: go on"
NO_TO_THE_REST = "the customer said no to the rest: the comeback goes on"
NO_CLOSE_UP = "the customer said no: close it up as it is"

OURS = frozenset({
    FOR_ANSWER, BAD_PACK, YES_TO_OPEN_AGAIN, YES_GO_ON, NO_TO_THE_REST, NO_CLOSE_UP,
})  # fmt: skip
"""All of them: any other reason is in the words of a person."""
