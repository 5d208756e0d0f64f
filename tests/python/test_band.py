"""The band of leans: each alone, the hardest that judges, and what stands behind the numbers."""

from __future__ import annotations

import pickle

import loamline as ll
import numpy as np
import pytest
from loamline.tally import LEAN_WORDS, leans


@pytest.fixture(scope="module")
def site():
    return ll.Site.demo()


@pytest.fixture(scope="module")
def passes(site):
    return site.passes(n=64, seed=3)


def test_the_hardest_of_the_leans_judges(passes):
    assert passes.leans == ["deck", "balanced", "settled"] == list(LEAN_WORDS)
    leaves = passes.hardest_lean != ""
    assert leaves.sum() > 50
    alone = np.array([passes.with_lean(lean).fall_height[leaves] for lean in passes.leans])
    np.testing.assert_array_equal(passes.fall_height[leaves], np.nanmax(alone, axis=0))
    hardest = np.array(passes.leans)[np.nanargmax(alone, axis=0)]
    assert (hardest == passes.hardest_lean[leaves]).all()


def test_who_does_not_leave_has_no_lean(passes):
    stays = passes.hardest_lean == ""
    assert (passes.outcome[stays] == "not_launched").all()


def test_one_lean_alone_is_kept_by_a_pickle_and_on_other_ground(passes):
    alone = passes.with_lean("settled")
    assert alone.leans == ["settled"] and alone.with_lean("settled") == alone
    assert pickle.loads(pickle.dumps(alone)) == alone
    np.testing.assert_array_equal(alone.on(passes.ground).fall_height, alone.fall_height)
    with pytest.raises(ll.InputError, match=r'lean = "deck" is not one of \["settled"\]'):
        alone.with_lean("deck")
    with pytest.raises(ll.InputError, match='lean = "sideways" is not known'):
        passes.with_lean("sideways")


def test_a_single_ride_takes_a_lean(site, passes):
    who, start = site.classes[0].name, float(np.median(passes.start[passes.who == 0]))
    speeds = [site.ride(start, 1.2, who, lean=lean).exit_speed for lean in passes.leans]
    assert speeds[0] > speeds[1] > speeds[2]
    with pytest.raises(ll.InputError, match='lean = "none" is not known'):
        site.ride(start, 1.2, who, lean="none")


def test_the_band_has_a_row_for_each_lean(passes):
    rows = leans(passes, 1.0)
    assert [row.name for row in rows] == passes.leans
    assert [row.row.median_fall_height for row in rows] == sorted(row.row.median_fall_height for row in rows)


def test_passes_and_fits_say_what_stands_behind_them(site, passes):
    said = passes.explain()
    assert "three leans" in said and "seed = 3" in said and "Sobol'" in said
    fit = ll.fit_landing(passes, site, volume=3.0, fall_limit=1.0)
    assert f"caught = {fit.caught}" in fit.explain() and "certify nothing" in fit.explain()
