"""Flags in Python: fits against scipy, files, journal, command line, page and card."""

import json
import pickle
from types import SimpleNamespace

import loamline as ll
import numpy as np
import pytest
from loamline import plot, pocket_card
from loamline.cli import main
from loamline.flag_numbers import lean_words
from scipy.optimize import least_squares

TRUTH = {"crr": 0.02, "cda": 0.53, "brake": 0.05, "pop": 0.1, "leave": 0.02, "speed": 0.05}
STARTS = (20.0, 20.5, 21.0)


@pytest.fixture(scope="module")
def site():
    return ll.Site.demo()


def planted(site, start, lean="balanced", off=(0.0, 0.0), sd=0.25, **more):
    flag = ll.Flag(start, "regulars", (3.0, 0.0), leave=1.0, mark_sd=sd, **more)
    x, y, _ = flag.seen(site, TRUTH, lean)["mark"]
    return ll.Flag(start, "regulars", (x + off[0], y + off[1]), leave=1.0, mark_sd=sd, **more)


@pytest.fixture(scope="module")
def found(site):
    offs = [(0.1, -0.15), (-0.2, 0.05), (0.05, 0.2)]
    return ll.fit_flags(site, [planted(site, s, off=o) for s, o in zip(STARTS, offs)])


def test_a_fit_is_the_least_squares_of_scipy(site):
    """Normal beliefs: the scores' squares and the misses' squares, added."""
    plane = ll.Ground.plane((0, 0, -0.6), 6.0, 15.0)
    flags = [
        planted(site, s, lean="deck", off=o, sd=0.2, start_sd=0.0).on(plane)
        for s, o in zip((19.0, 21.0, 23.0), [(0.3, -0.1), (-0.2, 0.2), (0.1, 0.15)])
    ]
    found = ll.fit_flags(
        site, flags, free=["leave", "speed"], lean="deck", bad_share=0.0, accuracy=1e-9
    )
    base = {name: told["prior_median"] for name, told in found.estimates.items()}

    def misses(place):
        values = {**base, "leave": 0.1 * place[0], "speed": 0.15 * place[1]}
        apart = []
        for flag in flags:
            seen = flag.seen(site, values, "deck")["numbers"]
            apart += list((np.array(flag.mark(site)) - seen) / flag.mark_sd)
        return [*place, *apart]

    def slopes(place, h=0.04):
        """To the fourth order: scipy's own steps are too short for rides good to 1e-11."""
        steps = h * np.eye(2)
        at = lambda k: np.array([misses(place + k * step) for step in steps]).T  # noqa: E731
        return (at(-2) - 8 * at(-1) + 8 * at(1) - at(2)) / (12 * h)

    best = least_squares(misses, np.zeros(2), xtol=1e-15, ftol=1e-15, gtol=1e-15, jac=slopes)
    assert found.estimates["leave"]["median"] == pytest.approx(0.1 * best.x[0], abs=1e-8)
    assert found.estimates["speed"]["median"] == pytest.approx(0.15 * best.x[1], abs=1e-8)
    spread = np.sqrt(np.diag(np.linalg.inv(best.jac.T @ best.jac)))
    told = found.estimates["speed"]
    assert (told["high"] - told["low"]) / (2 * 1.6448536) == pytest.approx(0.15 * spread[1], rel=1e-4)


def test_a_coast_down_comes_back(site):
    """Derived, not measured: speeds that a model rider has at two places give his values' speeds back."""
    flag = ll.Flag(22.0, "regulars", None, timings=None, speeds=[(2.0, 5.0, 1e-4), (12.0, 4.0, 1e-4)])
    values = {**TRUTH, "crr": 0.0231}
    seen = flag.seen(site, values, "deck")["numbers"]
    flag = ll.Flag(
        22.0, "regulars", speeds=[(2.0, seen[0], 1e-4), (12.0, seen[1], 1e-4)], start_sd=0.0
    )
    found = ll.fit_flags(site, [flag], free=["crr", "brake"], lean="deck", bad_share=0.0)
    base = found.estimates["cda"]["prior_median"]
    again = flag.seen(site, {**{k: e["median"] for k, e in found.estimates.items()}, "cda": base}, "deck")
    assert again["numbers"] == pytest.approx(seen, abs=1e-3)


def test_a_forecast_holds_its_shares(found):
    forecast = found.forecast(22.5, leave=1.0, draws=256)
    marks = forecast.mark[np.isfinite(forecast.mark[:, 0])]
    held = np.array([forecast.holds(x, y) for x, y, _ in marks])
    weight = forecast.weight[np.isfinite(forecast.mark[:, 0])]
    share = (held * weight[:, None]).sum(axis=0) / weight.sum()
    assert share == pytest.approx([0.5, 0.9], abs=0.02)
    assert forecast.risk(1.0)["total"] >= forecast.risk(1.0, by="weight")["total"] - 1e-12
    assert len(forecast.to_pandas()) == len(forecast.weight)
    assert pickle.loads(pickle.dumps(forecast)) == forecast


def test_the_next_step_and_the_ladder_explain_themselves(found):
    step = ll.next_step(found, fall_limit=2.0, chance=0.05)
    assert (step.start is None) != (step.refusal is None)
    assert "certify nothing" in step.explain()
    assert pickle.loads(pickle.dumps(step)) == step
    ladder = ll.ladder(found, fall_limit=1.0, draws=32)
    assert [r["start"] for r in ladder.rungs] == sorted(r["start"] for r in ladder.rungs)
    assert "certify nothing" in ladder.explain() and "<table>" in ladder._repr_html_()
    worth = found.what_next([20.5, 22.0], 25.0, leave=1.0)
    assert worth[0]["gain"] >= worth[-1]["gain"] > 0.0


def test_flags_go_into_files_and_come_back(site, tmp_path):
    flags = [planted(site, s) for s in STARTS]
    path = tmp_path / "flags.csv"
    ll.save_flags(path, flags, site)
    back = ll.load_flags(path)
    assert [f.start for f in back] == list(STARTS)
    assert back[0].mark(site) == pytest.approx(flags[0].mark(site))
    with pytest.raises(ll.FileError, match="cannot be written"):
        ll.save_flags(path, flags, site)
    path.write_text("# a comment\nwho,start,tape_from,tape_towards,along,left\nregulars,20,oak peg,iron pin,3.5,4\n")
    assert ll.load_flags(path)[0].mark(site) is not None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("who,start,length\nregulars,20,1\n", "no column 'length'"),
        ("who,x\nregulars,20\n", "'start' is missing"),
        ("who,start,x,y\nregulars,20,1\n", "line 2: a mark wants x and y"),
        ("who,start,x,y\nregulars,twenty,1,2\n", "line 2: start = 'twenty' is not a number"),
        ("who,start,x,y\nregulars,-3,1,2\n", "line 2: start = -3 is out of range"),
        ("who,start,seconds,seconds_from,seconds_to\nregulars,20,2,3,9\n", "runs backwards"),
    ],
)
def test_what_is_wrong_in_a_file_is_named(tmp_path, text, said):
    path = tmp_path / "flags.csv"
    path.write_text(text)
    with pytest.raises(ll.FileError, match=said):
        ll.load_flags(path)


def test_tracks_give_speeds(tmp_path):
    gpx = tmp_path / "ride.gpx"
    point = '<trkpt lat="{:.7f}" lon="8.0">{}</trkpt>'
    # Two metres a second more each second, southwards; a second of latitude is about 31 m.
    rows = [
        point.format(47.0 - 0.5 * 2.0 * t * t / 111194.9, f"<time>2026-05-02T10:00:{t:02d}Z</time>")
        for t in range(6)
    ]
    frame = '<gpx version="1.1" creator="test"><trk><trkseg>{}</trkseg></trk></gpx>'
    gpx.write_text(frame.format("".join(rows)))
    (place, speed, sd), = ll.track_speeds(gpx, 22.0, [12.0])
    # Ten metres on, between 9 and 16 m: seven metres in a second.
    assert (place, sd) == (12.0, 0.3) and speed == pytest.approx(7.0, rel=0.01)
    gpx.write_text(frame.format(point.format(47.0, "") * 4))
    with pytest.raises(ll.FileError, match="without times"):
        ll.track_speeds(gpx, 22.0, [12.0])
    table = tmp_path / "ride.csv"
    table.write_text("time,speed\n" + "".join(f"{t},{2.0 * t}\n" for t in range(6)))
    assert ll.track_speeds(table, 22.0, [12.0])[0][1] == pytest.approx(7.0)
    with pytest.raises(ll.InputError, match="does not pass"):
        ll.track_speeds(table, 22.0, [-40.0])


def test_a_journal_overwrites_nothing_and_redoes_its_forecasts(site, tmp_path):
    journal = ll.Journal(tmp_path / "heath")
    csv = tmp_path / "flags.csv"
    ll.save_flags(csv, [planted(site, s) for s in STARTS], site)
    first, second = journal.add_flags("2026-05-02", csv), journal.add_flags("2026-05-02", csv)
    assert (first.name, second.name) == ("2026-05-02-flags.csv", "2026-05-02-flags-2.csv")
    made = journal.add_forecast("2026-05-02", site, [22.0])
    journal.add_survey("2026-05-03", site.survey + [0.0, 0.0, 0.1])
    csv.unlink()
    ll.save_flags(csv, [planted(site, 22.0, off=(0.4, 0.1))], site)
    journal.add_flags("2026-05-03", csv)
    assert journal.redo(made, site) == json.loads(made.read_text())
    assert len(journal.flags(site)) == 7 and len(journal.flags(site, "2026-05-02")) == 6
    with pytest.raises(ll.InputError, match="is no date"):
        journal.add_flags("yesterday", csv)


@pytest.fixture
def csv(site, tmp_path):
    path = tmp_path / "flags.csv"
    ll.save_flags(path, [planted(site, s) for s in STARTS], site)
    return str(path)


def test_the_command_line_tells_what_flags_say(csv, tmp_path, capsys):
    assert main(["flags", "demo", csv, "--json", "--start", "22"]) == 0
    numbers = json.loads(capsys.readouterr().out)
    assert numbers["forecasts"][0]["start"] == 22.0 and "certify nothing" in numbers["caution"]
    assert main(["flags", "demo", csv]) == 0
    assert "3 flags of regulars" in capsys.readouterr().out
    assert main(["flags", "demo", str(tmp_path / "none.csv")]) == 2
    assert "cannot be read" in capsys.readouterr().err


def test_leans_that_fit_alike_are_not_told(found):
    assert lean_words(found).startswith(next(iter(found.leans)))
    assert lean_words(SimpleNamespace(leans={"deck": 1 / 3, "balanced": 1 / 3, "settled": 1 / 3})) == ""
    assert lean_words(SimpleNamespace(leans={"balanced": 1.0})) == "balanced 100 %"


def test_the_command_line_asks_for_one_class(tmp_path, capsys):
    file = tmp_path / "two.csv"
    file.write_text("who,start,x,y\nregulars,20.0,2.6,0.9\nfirst-timers,17.0,2.2,0.8\n", "utf-8")
    assert main(["flags", "demo", str(file)]) == 2
    assert "first-timers, regulars: name one class with --who" in capsys.readouterr().err


def test_the_command_line_writes_page_and_card(csv, tmp_path):
    assert main(["flags", "demo", csv, "-o", str(tmp_path / "out")]) == 0
    page = (tmp_path / "out" / "flags.html").read_text()
    assert "<svg" in page and "certify nothing" in page and "ladder" in page
    assert (tmp_path / "out" / "pocket-card.pdf").read_bytes().startswith(b"%PDF")


def test_the_command_line_says_the_next_step(csv, capsys):
    assert main(["next", "demo", csv, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["ladder"]["rungs"] and (told["start"] is None) != (told["refusal"] is None)


def test_pictures_are_drawn(site, found):
    forecasts = [found.forecast(start, leave=1.0) for start in (21.0, 22.5)]
    assert plot.flags(found, forecasts).collections
    assert plot.ladder(forecasts).lines
    card = found.pocket_card([20.0, 21.0], fall_limit=2.0)
    assert len(pocket_card.page(card, site).texts) > 10
    assert "Found" in found._repr_html_() and pickle.loads(pickle.dumps(found)) == found
