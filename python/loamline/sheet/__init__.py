"""The field sheet: two pages of A4, black on white, to build from with a tape in the hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from matplotlib.backends.backend_pdf import PdfPages

from ..plot import sheet
from .drawings import drawings
from .setting_out import setting_out

if TYPE_CHECKING:
    from ..planning import Plan


def field_sheet(plan: Plan, file: Any) -> None:
    """Writes the field sheet of a plan as a PDF of two A4 pages.

    Args:
        plan: the plan.
        file: a path or an open binary file.
    """
    about = {"Title": f"{plan.site.name}: field sheet", "Creator": "loamline", "CreationDate": None}
    with sheet("light"), PdfPages(file, metadata=about) as pdf:
        for page in (drawings, setting_out):
            pdf.savefig(page(plan), facecolor="white")
