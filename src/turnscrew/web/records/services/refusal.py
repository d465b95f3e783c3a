"""What does a service say when it will not do something?"""

from turnscrew.web.records.refusal import RefusedError

# It lies below the tables, as these refuse what they have no room for.
__all__ = ["RefusedError"]
