"""Equations as MathML, which browsers draw by themselves: no script, no fonts from elsewhere."""

from docutils import nodes
from docutils.utils.math import latex2mathml
from sphinx.application import Sphinx
from sphinx.util.math import get_node_equation_number


def _inline(self, node: nodes.math) -> None:
    self.body.append(latex2mathml.tex2mathml(node.astext()))
    raise nodes.SkipNode


def _block(self, node: nodes.math_block) -> None:
    self.body.append(self.starttag(node, "div", CLASS="equation"))
    if node.get("number"):
        self.body.append(f'<span class="eqno">({get_node_equation_number(self, node)})</span>')
    self.body.append(latex2mathml.tex2mathml(_rows(node.astext()), as_block=True))
    self.body.append("</div>")
    raise nodes.SkipNode


def _rows(tex: str) -> str:
    """Puts equations of several rows into the environment that lines them up."""
    return f"\\begin{{aligned}}{tex}\\end{{aligned}}" if r"\\" in tex and r"\begin" not in tex else tex


def setup(app: Sphinx) -> dict[str, bool]:
    """Registers the renderer."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
    app.config.html_math_renderer = "mathml"
    return {"parallel_read_safe": True}
