"""What is a table before its headings are known, and how large may it be?"""

MAX_BYTES = 20_000_000
MAX_ROWS = 200_000
MAX_COLUMNS = 200

Grid = list[tuple[int, list[str]]]
"""Line and cells of each row, blank ones too; cells without blanks around them."""
