"""How the documentation site is built: `make docs`."""

import sys
from pathlib import Path

import loamline

sys.path.insert(0, str(Path(__file__).parent / "_ext"))

project = "Loamline"
author = "The Loamline developers"
copyright = "The Loamline developers; MIT or Apache-2.0"  # noqa: A001
version = release = loamline.__version__

# Ours: equations as MathML, figures drawn by the package itself, and the reference from what is there.
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon"]
extensions += ["mathml", "figures", "face", "signatures", "tables"]
exclude_patterns = ["_site", "_generated", "_ext"]
source_suffix = {".md": "markdown", ".rst": "restructuredtext"}
myst_enable_extensions = ["dollarmath", "deflist", "colon_fence", "attrs_inline"]
myst_heading_anchors = 3
templates_path = ["_templates"]

autodoc_member_order = "bysource"
autodoc_default_options = {"members": True}
add_module_names = False
# Members are in the index and in search; in every page's contents they would cost half of the time.
toc_object_entries = False
python_use_unqualified_type_names = True
napoleon_use_rtype = False

html_theme = "furo"
html_title = f"Loamline {version}"
# Links have the accents that the report has.
html_theme_options = {
    mode: {f"color-brand-{part}": accent for part in ("primary", "content", "visited")}
    for mode, accent in (("light_css_variables", "#9a5b1e"), ("dark_css_variables", "#e0a463"))
}
html_static_path = ["_static"]
html_css_files = ["loamline.css"]
html_show_sphinx = False
html_copy_source = False
# Plain letters: what works in every browser's fonts.
html_permalinks_icon = "#"
pygments_style = "default"
pygments_dark_style = "native"
