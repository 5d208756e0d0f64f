"""The trade-off curve: what more earth buys."""

from __future__ import annotations

from typing import Any

import numpy as np

from . import style


@style.styled(figsize=(5.4, 3.2))
def curve(
    tradeoff: Any, chosen: Any = None, barrow_volume: float | None = None, ax: Any = None
) -> Any:
    """Draws the share that lands softly against the earth in place; returns the axes.

    Args:
        tradeoff: the trade-off, with `volumes` (m3), `caught` (softly) and `on_face` (shares), and
            the place of its `knee`, if it has one.
        chosen: the fit to point out, or None.
        barrow_volume: earth in place per barrow in m3, for a second scale on top, or None.
        ax: axes to draw on, or None.
    """
    volumes = np.asarray(tradeoff.volumes)
    soft, on_face = 100.0 * np.asarray(tradeoff.caught), 100.0 * np.asarray(tradeoff.on_face)
    ax.plot(
        volumes, on_face, "s--", color=style.RED, label="on the face, softly or not", mfc="none"
    )
    ax.plot(volumes, soft, "o-", color=style.BLUE, label="on it softly")
    knee = getattr(tradeoff, "knee", None)
    if knee is not None:
        at: dict[str, Any] = {"color": style.BLUE, "lw": 1.0, "ls": ":", "zorder": 1}
        ax.axvline(volumes[knee], **at)
        ax.annotate(
            "knee",
            (volumes[knee], 0.4),
            xytext=(-2, 0),
            xycoords=("data", "axes fraction"),
            textcoords="offset points",
            rotation=90,
            ha="right",
            va="center",
            fontsize="small",
        )
    if chosen is not None:
        star: dict[str, Any] = {"color": style.INK, "ms": 12, "zorder": 5, "label": "this plan"}
        ax.plot(chosen.volume, 100.0 * chosen.caught, "*", **star)
    ax.set(xlabel="earth in place, m³", ylabel="of those who leave the edge, %", ylim=(0, 104))
    ax.set_xlim(left=0)
    ax.legend(loc="lower right")
    if barrow_volume:
        scale = (lambda v: v / barrow_volume, lambda b: b * barrow_volume)
        ax.secondary_xaxis("top", functions=scale).set_xlabel("barrows")
    return ax
