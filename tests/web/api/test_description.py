"""Is what is written down of the routes true?"""

import json
from pathlib import Path

from turnscrew.web.api.routes import described
from turnscrew.web.records.services.tokens import SCOPES

DOCS = Path(__file__).resolve().parents[3] / "docs"


def test_it_keeps_the_description_of_the_routes_current() -> None:
    assert described() == (DOCS / "api" / "openapi.json").read_text("utf-8")


def test_it_documents_every_refusal_of_every_route() -> None:
    for path, methods in json.loads(described())["paths"].items():
        for method, told in methods.items():
            wanted = {"200", "401", "403", "404", "422"}
            if method == "post":
                wanted |= {"409", "503"}
            assert wanted <= set(told["responses"]), path
            assert "Scope:" in told["description"] or path in {
                "/api/v1/whoami", "/api/v1/parts",
            }  # fmt: skip


def test_it_names_every_scope_and_route_in_the_manual() -> None:
    manual = (DOCS / "api.md").read_text("utf-8")
    paths = json.loads(described())["paths"]

    assert [] == [scope for scope in SCOPES if f"`{scope}`" not in manual]
    assert [] == [path for path in paths if path.removeprefix("/api/v1") not in manual]
