"""The pages' figures, drawn when the site is built: each once, and kept for light and for dark paper."""

import re
from pathlib import Path

import matplotlib as mpl
from drawings import DRAWINGS
from loamline import plot
from matplotlib import pyplot as plt
from matplotlib.colors import to_hex
from sphinx.application import Sphinx

# What a page exchanges by night: ink, paper, and hues too dark on black for lighter ones of the same kind.
_NIGHT = {
    plot.style.INK: "#e4e0d6",
    plot.style.PAPER: "#131416",
    plot.style.BLUE: "#56b4e9",
    plot.style.GREEN: "#3fcf9f",
    plot.style.RED: "#f08a4b",
    plot.style.TIMBER: "#a3b4c0",
    plot.style.GROUND: "#c2a283",
}


def _figures(app: Sphinx) -> None:
    """Draws every figure in loamline's style, with letters as outlines: the same on every machine."""
    folder = Path(app.srcdir) / "_generated" / "figures"
    folder.mkdir(parents=True, exist_ok=True)
    mpl.use("Agg")
    for name, draw in DRAWINGS.items():
        light, dark = folder / f"{name}-light.svg", folder / f"{name}-dark.svg"
        if app.config.figures_kept and dark.exists():
            continue
        with plot.sheet(), mpl.rc_context({"svg.fonttype": "path"}):
            figure = draw()
            figure.savefig(light, format="svg", metadata={"Date": None}, bbox_inches="tight")
            plt.close(figure)
        # In one pass: some colours of the night are colours of the day, too.
        night = {**_fall_heights(), **_NIGHT}
        drawn = re.sub(r"#[0-9a-f]{6}\b", lambda code: night.get(code[0], code[0]), light.read_text("utf-8"))
        dark.write_text(drawn, "utf-8")


def _fall_heights() -> dict[str, str]:
    """Returns for each of the day's colours of fall heights that of the night."""
    shades = []
    for look in ("light", "dark"):
        with plot.sheet(look):
            shades.append([to_hex(colour) for colour in plot.style.FALL_HEIGHT.colors])
    return dict(zip(*shades))


def setup(app: Sphinx) -> dict[str, bool]:
    """Draws before the pages are read; `-D figures_kept=1` keeps what is drawn, while one writes."""
    app.add_config_value("figures_kept", False, "env", [bool])
    app.connect("builder-inited", _figures)
    return {"parallel_read_safe": True}
