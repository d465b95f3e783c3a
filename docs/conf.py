"""How are the pages of docs built into a site that needs no network?"""

import gc
import re
import sys
from pathlib import Path

from docutils import nodes
from sphinx.addnodes import pending_xref
from sphinx.application import Sphinx

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src")]

from doors import doors_of  # noqa: E402 - lies beside this file

# Pages are trees of small nodes that live to the end: looking for waste among them
# takes a tenth of the time.
gc.set_threshold(200_000, 50, 50)

project = "Turnscrew"
html_title = "Turnscrew"
language = "en"
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon"]
exclude_patterns = ["schemas", "figures", "pictures", "templates", "static"]

# Links to headings are checked, down to the third level.
myst_heading_anchors = 3
myst_links_external_new_tab = False

napoleon_google_docstring = False
napoleon_use_rtype = False
napoleon_use_ivar = True
napoleon_attr_annotations = False
autodoc_member_order = "bysource"
autodoc_typehints = "signature"
autodoc_typehints_format = "short"
autodoc_use_type_comments = False
python_maximum_signature_line_length = 72
add_module_names = False
toc_object_entries = False

html_theme = "furo"
html_static_path = ["static"]
html_copy_source = False
html_show_sourcelink = False
html_show_sphinx = False
html_show_copyright = False
html_theme_options = {"top_of_page_buttons": []}
templates_path = ["templates"]
html_css_files = ["turnscrew.css"]
html_favicon = "../src/turnscrew/web/static/mark.svg"
html_use_index = False
html_domain_indices = False
pygments_style = "bw"
pygments_dark_style = "monokai"

MODULES = re.compile(r"^<!-- modules of ([\w.]+) -->$", re.MULTILINE)
"""The line of a page in whose place the public names of a package stand."""


TEXT = re.compile(r"^<!-- text of ([\w.]+) -->$", re.MULTILINE)
"""The line of a page in whose place a text stands that lies beside ``docs``."""


REST = re.compile(r"^every other page$", re.MULTILINE)
"""The line of a list of pages in whose place those stand that are not named yet."""


def rest_of(text: str) -> list[str]:
    """
    List the pages of the first floor that a text does not name.

    Parameters
    ----------
    text
        A page.

    Returns
    -------
    list[str]
        Names of pages, in the order of the alphabet.
    """
    named = set(re.findall(r"^([\w-]+)$", text, re.MULTILINE)) | {"index"}
    return sorted(path.stem for path in HERE.glob("*.md") if path.stem not in named)


def words_for(package: str) -> str:
    """
    Write what stands for the public names of a package: a heading a module.

    Parameters
    ----------
    package
        Dotted name of a package or module.

    Returns
    -------
    str
        A piece of a page.
    """
    front = f"```{{eval-rst}}\n.. automodule:: {package}\n   :members:\n```\n"
    return front + "\n".join(
        f"## {name.removeprefix(package + '.')}\n\n"
        f"```{{eval-rst}}\n.. automodule:: {name}\n   :members:\n```\n"
        for name in doors_of(package)
    )


def text_of(name: str) -> str:
    """
    Give a text that stands beside ``docs``, with its links as they are from here.

    Parameters
    ----------
    name
        Name of its file.

    Returns
    -------
    str
        Its text; what has no page here is named and not linked.
    """

    def turned(match: re.Match[str]) -> str:
        words, place = match[1], match[2].removeprefix("docs/")
        page = place if place != match[2] else place.lower()
        return f"[{words}]({page})" if (HERE / page).is_file() else f"`{match[2]}`"

    text = (HERE.parent / name).read_text("utf-8")
    return re.sub(r"\[([^\]]*)\]\(([\w./-]+)\)", turned, text)


def fill_in(app: Sphinx, page: str, source: list[str]) -> None:
    """
    Put public names, and texts that stand beside ``docs``, where a page asks for them.

    Parameters
    ----------
    app
        What builds the site.
    page
        Name of the page.
    source
        Its text, alone in a list; changed in place.
    """
    text = MODULES.sub(lambda match: words_for(match[1]), source[0])
    text = TEXT.sub(lambda match: text_of(match[1]), text)
    source[0] = REST.sub("\n".join(rest_of(text)), text)


def without_types_linked(app: Sphinx, doctree: nodes.document) -> None:
    """
    Leave types as plain words: looking each of them up takes most of the time.

    Parameters
    ----------
    app
        What builds the site.
    doctree
        A page as it was read; changed in place.
    """
    for found in list(doctree.findall(pending_xref)):
        if found.get("refdomain") == "py":
            found.replace_self(found.children)


def setup(app: Sphinx) -> dict[str, bool]:
    """
    Tell the builder what is ours.

    Parameters
    ----------
    app
        What builds the site.

    Returns
    -------
    dict[str, bool]
        That pages may be read and written beside each other.
    """
    app.connect("source-read", fill_in)
    app.connect("doctree-read", without_types_linked)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
