"""Landings of other forms, for riders in doubt and for whom the builder has in mind; the takeoff's side."""

import pickle

import numpy as np
import pytest

import loamline as ll


@pytest.fixture(scope="module")
def site():
    return ll.Site.demo()


@pytest.fixture(scope="module")
def passes(site):
    return site.passes(n=128, seed=1)


def test_a_rounded_foot_lies_in_its_range(site, passes):
    fit = ll.fit_landing(passes, site, volume=2.0, foot_radius=(2.0, 4.0))
    assert 2.0 <= fit.landing.foot_radius <= 4.0
    assert fit.volume <= 2.0
    again = pickle.loads(pickle.dumps(fit))
    assert again == fit and len(again.landings) == 1
    with pytest.raises(ll.InputError, match="foot_radius = "):
        ll.fit_landing(passes, site, volume=2.0, foot_radius=(3.0, 2.0))


def test_two_faces_share_the_earth(site, passes):
    fit = ll.fit_landing(passes, site, volume=2.4, faces=2)
    first, second = fit.landings
    assert first == fit.landing
    earth = ll.earthwork(site.ground, fit.ground, soil=site.earth)
    assert earth.fill == pytest.approx(fit.volume, abs=1e-6)
    landed = passes.on(fit.ground)
    soft = (landed.outcome == "caught") & (landed.fall_height <= site.fall_limit)
    left = landed.ride_outcome == "reached"
    share = landed.weight[soft].sum() / landed.weight[left].sum()
    assert share == pytest.approx(fit.caught, abs=0.02)
    for wrong in (dict(faces=3), dict(faces=2, foot_radius=(1.0, 2.0))):
        with pytest.raises(ll.InputError):
            ll.fit_landing(passes, site, volume=2.4, **wrong)


def test_doubt_is_drawn_in_scenarios(site):
    doubt = ll.Doubt(speed=0.08, scenarios=4)
    assert eval(repr(doubt), {"Doubt": ll.Doubt}) == doubt
    passes = site.passes(n=256, seed=1, doubt=doubt)
    assert np.array_equal(np.unique(passes.scenario), [0, 1, 2, 3])
    assert len(np.unique(passes.speed_factor)) == 4
    assert pickle.loads(pickle.dumps(passes)) == passes
    fit = ll.fit_landing(passes, site, volume=1.6)
    by = np.sort(fit.caught_by_scenario)
    assert fit.judged == pytest.approx(by[:2].mean(), abs=1e-12)
    plain = site.passes(n=256, seed=1)
    assert (plain.scenario == 0).all() and (plain.speed_factor == 1).all()
    with pytest.raises(ll.InputError, match="scenarios = 1"):
        ll.Doubt(scenarios=1)


def test_weights_are_the_builders(site, passes):
    name = passes.class_names[0]
    heavy = passes.weighted({name: 5.0})
    assert heavy.weight.sum() == pytest.approx(1.0)
    first = passes.who == 0
    ratio = heavy.weight[first].sum() / heavy.weight[~first].sum()
    assert ratio == pytest.approx(5.0 * passes.weight[first].sum() / passes.weight[~first].sum())
    assert pickle.loads(pickle.dumps(heavy)) == heavy
    with pytest.raises(ll.InputError, match="nobody"):
        passes.weighted({"nobody": 2.0})


def test_a_trade_off_has_a_front_and_says_where_it_bends(site, passes):
    curve = ll.tradeoff(passes, site, volumes=[0.9, 1.3, 2.0])
    assert len(curve.on_front) == 3 and curve.on_front[0]
    assert curve.knee is None or 0 <= curve.knee < 3
    assert curve.reasons and all(reason.endswith(".") for reason in curve.reasons)
    assert np.all(np.diff(curve.caught) >= -1e-9), "more earth is never worse"


def test_the_takeoff_has_its_side_of_the_bargain(site):
    changes = [dict(end_bank_deg=-8.0), dict(leave_at_most=1.2)]
    struck = ll.bargain(site, volume=0.4, changes=changes, n=48)
    assert struck.words == ["as it is", "end bank 8 degrees flatter", "left at most 1.20 m up the panel"]
    assert struck.saved[0] == 0.0 and len(struck) == 3
    known = ~np.isnan(struck.needed)
    assert known[0] and np.all(struck.needed[known] <= 0.4)
    assert struck.changes[0] is None and struck.changes[1]["end_bank_deg"] == pytest.approx(-8.0)
    assert pickle.loads(pickle.dumps(struck)) == struck
    assert "to about 4 %" in struck.explain()
    for wrong in ([dict(taller=1.0)], [dict(lip_angle_deg=2.0)], [3.0], [dict(speed_check=-1.0)]):
        with pytest.raises(ll.InputError):
            ll.bargain(site, volume=2.4, changes=wrong, n=16)
