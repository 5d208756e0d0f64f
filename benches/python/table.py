"""One table of flights a second and ratios: criterion's benches, and the same from Python beside general tools.

Run by `make bench`, after `cargo bench`; writes `target/bench.md` and prints it.
"""

import json
from pathlib import Path

import flights
import ground
import growth

#: Criterion's groups, and their titles.
GROUPS = {
    "plane": "onto a plane",
    "plane, any acceleration": "onto a plane, any acceleration",
    "grid": "onto a grid of 200 by 200",
    "survey": "onto a survey",
    "landing on a survey": "onto a landing on a survey",
    "200 places of each path": "200 places of each path",
    "passes onto a plane": "whole passes onto a plane",
    "passes onto a grid": "whole passes onto a grid",
}
#: The ways that others are held to: a general solver, or loamline's own single flights and passes.
GENERAL = ("Dopri5", "one by one")
#: What the machine needs to write as many numbers.
WRITING = "plain copy"


def of_rust(folder):
    """Rows of title, way, flights a second, and how many times the general way's; from criterion's own files."""
    rates = {}
    for file in sorted(folder.glob("*/*/new/estimates.json")):
        said = json.loads((file.parent / "benchmark.json").read_text())
        count = said["throughput"] and said["throughput"].get("Elements")
        flies = said["function_id"] in (*GENERAL, WRITING) or said["function_id"].startswith("batch")
        if said["group_id"] in GROUPS and count and flies:
            seconds = json.loads(file.read_text())["median"]["point_estimate"] / 1e9
            rates[said["group_id"], said["function_id"]] = count / seconds
    rows = []
    for (group, way), rate in rates.items():
        general = next((rates[group, name] for name in GENERAL if (group, name) in rates), None)
        ratio = f"{rate / general:.3g}" if general and way not in GENERAL else ""
        rows.append((GROUPS[group], way, f"{rate:.3g}", ratio))
    return rows


def of_python():
    """Rows of title, way, flights a second, greatest error, and how many times as many loamline's are."""
    rows = []
    for title, ways in {**flights.compared(), GROUPS["grid"]: ground.onto_a_grid()}.items():
        first = ways[0][1]
        for name, rate, error in ways:
            ratio = f"{first / rate:.3g}" if rate != first else ""
            rows.append((title, name, f"{rate:.3g}", f"{error:.0e}", ratio))
    return rows


def markdown(head, rows):
    """A table."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines) + "\n"


def main():
    root = Path(__file__).parents[2]
    text = f"{flights.machine()}\n\nIn Rust, one thread, medians:\n\n"
    text += markdown(("work", "way", "flights/s", "times Dopri5, or one by one"), of_rust(root / "target/criterion"))
    text += "\nFrom Python, one thread, medians, every way held to loamline's single flights:\n\n"
    head = ("work", "way", "flights/s", "worst error, m", "loamline is so many times as fast")
    text += markdown(head, of_python())
    text += "\nHow the time grows, from Python:\n\n"
    text += markdown(("what", "flights/s"), growth.rows())
    (root / "target/bench.md").write_text(text)
    print(text)


if __name__ == "__main__":
    main()
