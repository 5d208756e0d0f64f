"""Soils, earthworks, borrow places, backs that hold earth, and ponds, at the Python face."""

import math

import numpy as np
import pytest

import loamline as ll

LEVEL = ll.Ground.plane()


def built(batter_deg=33.0):
    landing = ll.Landing(
        crest=(4, 0), heading_deg=0, slope_deg=20, length=4, width=3, crest_radius=0.0, batter_deg=batter_deg
    )
    return LEVEL.with_landing(landing)


def pit(rim=0.0):
    around = [(1.5 * math.cos(a), 1.5 * math.sin(a), rim) for a in np.arange(0, 2 * np.pi, np.pi / 12)]
    outside = [(x, y, -0.8) for x in (-5, 5) for y in (-5, 5)]
    return ll.Ground.survey([(0, 0, -0.6), *around, *outside])


SOILS = [
    ll.Soil(),
    ll.Soil("clay"),
    ll.Soil("pit sand", like="sand", swell=0.15, digging="heavy"),
    ll.Soil("wet \"slip\"", like="loam", stand_up_deg=(20.0, 15.0, 25.0), grain="granular"),
]


@pytest.mark.parametrize("soil", SOILS, ids=lambda s: s.name)
def test_soils_come_back(soil, round_trip, rebuilt):
    assert round_trip(soil) == soil
    again = rebuilt(soil)
    assert again.name == soil.name
    assert again.swell == soil.swell
    assert again.stand_up_deg == soil.stand_up_deg


@pytest.mark.parametrize(
    ("kwargs", "field"),
    [
        ({"name": "chalk"}, "soil"),
        ({"name": "peat"}, "soil"),
        ({"swell": -0.1}, "swell"),
        ({"swell": (0.2, 0.3, 0.4)}, "swell"),
        ({"shrinkage": 1.0}, "shrinkage"),
        ({"friction_deg": 90.0}, "friction_deg"),
        ({"stand_up_deg": math.nan}, "stand_up_deg"),
        ({"digging": "easy"}, "digging"),
        ({"grain": "coarse"}, "grain"),
    ],
)
def test_soils_that_cannot_be_name_the_field(kwargs, field):
    with pytest.raises(ll.InputError) as error:
        ll.Soil(**kwargs)
    assert error.value.field == field


def test_a_soil_steeper_than_it_stands_is_warned_of():
    assert ll.earthwork(LEVEL, built(), soil="loam").warnings == []
    steep = ll.earthwork(LEVEL, built(), soil=ll.Soil("clay"))
    assert "flatten" in steep.warnings[0]


def test_earthwork_hangs_together(round_trip):
    earth = ll.earthwork(LEVEL, built(), soil=ll.Soil("loam"), haul=35.0, tamping="rammer")
    assert earth == round_trip(earth)
    assert earth == ll.earthwork(LEVEL, built(), soil="loam", haul=35.0, tamping="rammer")
    assert earth.loose == pytest.approx(earth.fill / 0.9 * 1.25)
    assert earth.trailers == pytest.approx(max(earth.loose / 0.5, earth.mass / 500.0))
    value, low, high = earth.hours
    assert 0.0 < low < value < high
    assert sum(low for _, low, _ in earth.hours_by_job.values()) == pytest.approx(low)
    assert set(earth.hours_by_job) == {"dig", "load", "haul", "place"}
    assert earth.deepest_fill == pytest.approx(4 * math.tan(math.radians(20)), rel=1e-9)
    assert earth.lifts == math.ceil(earth.deepest_fill * 1.25 / 0.9 / 0.15 - 1e-9)
    assert earth.steepest_fill_deg == pytest.approx(33.0, abs=0.2)
    assert "shrinkage" in earth.explain()
    assert "Earthwork" in earth._repr_html_()


def test_longer_hauls_take_longer():
    hours = [ll.earthwork(LEVEL, built(), haul=haul).hours[0] for haul in (5.0, 40.0, 90.0)]
    assert hours == sorted(hours)
    far = ll.earthwork(LEVEL, built(), haul=90.0)
    assert any("tables" in warning for warning in far.warnings)


@pytest.mark.parametrize(
    ("kwargs", "field"),
    [
        ({"soil": "chalk"}, "soil"),
        ({"barrow": 0.0}, "barrow_volume"),
        ({"haul": -1.0}, "haul"),
        ({"trailer_payload": 0.0}, "trailer_payload"),
        ({"tamping": "dance"}, "tamping"),
    ],
)
def test_wrong_earthworks_name_the_field(kwargs, field):
    with pytest.raises(ll.InputError) as error:
        ll.earthwork(LEVEL, built(), **kwargs)
    assert error.value.field == field


def test_earth_comes_from_the_nearest_places(round_trip, rebuilt):
    earth = ll.earthwork(LEVEL, built())
    near, far = ll.Borrow("ditch", 10.0, 12.0), ll.Borrow("old \"pit\"", 50.0, 60.0)
    assert rebuilt(far) == far
    balance = earth.balance([far, near])
    assert round_trip(balance) == balance
    assert [row["place"] for row in balance.draws] == ["ditch", "old \"pit\""]
    assert sum(row["bank"] for row in balance.draws) == pytest.approx(earth.bank)
    assert balance.short == 0.0
    assert 12.0 < balance.mean_distance < 60.0
    assert earth.balance([]).short == pytest.approx(earth.bank)
    assert earth.balance([]).mean_distance is None
    with pytest.raises(ll.InputError):
        ll.Borrow("none", -1.0, 0.0)


def test_a_site_has_its_soil_with_its_numbers():
    site = ll.Site.demo()
    assert site.earth.name == site.soil
    assert isinstance(site.earth, ll.Soil)


def test_a_dry_level_backfill_is_rankines(round_trip):
    soil = ll.Soil("sand", friction_deg=30.0, unit_weight=18000.0)
    held = ll.retaining(1.5, 1.2, soil, surcharge=0.0)
    assert held.coefficient == pytest.approx(1 / 3)
    assert held.thrust == pytest.approx(0.5 / 3 * 18000 * 1.5**2)
    assert held.thrust_height == pytest.approx(0.5)
    assert held.weight == pytest.approx(13000 * 1.5 * 1.2)
    assert held.sliding[0] == pytest.approx(0.25 * held.weight / held.thrust)
    assert held.overturning[0] == pytest.approx(held.weight * 0.6 / (held.thrust * 0.5))
    assert round_trip(held) == held
    assert "An indication" in held.explain()
    assert "Retaining" in held._repr_html_()


def test_backs_warn_of_height_load_and_water():
    held = ll.retaining(1.6, 0.8, "loam", water=0.6)
    words = " ".join(held.warnings)
    for what in ("engineer", "load", "slide", "drain"):
        assert what in words
    assert held.sliding[1] <= held.sliding[0] <= held.sliding[2]
    wet, dry = held.sliding[0], ll.retaining(1.6, 0.8, "loam").sliding[0]
    assert wet < dry


@pytest.mark.parametrize(
    ("kwargs", "field"),
    [
        ({"height": 0.0}, "height"),
        ({"slope_deg": 40.0}, "slope_deg"),
        ({"lean_deg": 45.0}, "lean_deg"),
        ({"water": -1.0}, "water"),
        ({"footing": "mud"}, "footing"),
        ({"theory": "guess"}, "theory"),
        ({"theory": "coulomb", "wall_friction_deg": 60.0}, "wall_friction_deg"),
    ],
)
def test_wrong_backs_name_the_field(kwargs, field):
    with pytest.raises(ll.InputError) as error:
        ll.retaining(**{"height": 1.0, "width": 0.8, **kwargs})
    assert error.value.field == field


def test_a_pit_holds_a_cone_of_water(round_trip):
    found = ll.ponding(pit())
    (pond,) = found.ponds
    base = 12 * 1.5**2 * math.sin(math.pi / 12)
    assert pond.depth == pytest.approx(0.6)
    assert pond.volume == pytest.approx(base * 0.6 / 3)
    assert pond.area == pytest.approx(base)
    assert pond.drain.shape[1] == 3
    assert pond.drain[0] == pytest.approx(pond.deepest)
    assert pond.drain_cut > 0.6
    assert pond.drain_volume > 0.0
    assert "shave" in found.warnings[0]
    assert round_trip(found) == found
    assert round_trip(pond) == pond
    assert found.flats.shape[1] == 4


def test_ponds_against_a_flood_by_repeated_relaxation():
    """Planchon and Darboux's way to the same levels: an oracle of its own, on the grid's points."""
    rng = np.random.default_rng(7)
    heights = rng.normal(0.0, 0.1, (14, 17)).cumsum(axis=0) * 0.3 + rng.normal(0.0, 0.05, (14, 17))
    ground = ll.Ground.survey(
        [(float(x), y + 1e-3 * ((x * 7 + y * 3) % 5), heights[y, x]) for y in range(14) for x in range(17)]
    )
    triangles = ground.triangles()
    corners = {tuple(np.round(p, 9)) for triangle in triangles for p in triangle}
    points = sorted(corners)
    place = {p: i for i, p in enumerate(points)}
    edges, sides = set(), {}
    for triangle in triangles:
        a, b, c = (place[tuple(np.round(p, 9))] for p in triangle)
        for pair in ((a, b), (b, c), (c, a)):
            edges.add(tuple(sorted(pair)))
            sides[tuple(sorted(pair))] = sides.get(tuple(sorted(pair)), 0) + 1
    z = np.array([p[2] for p in points])
    border = sorted({i for pair, count in sides.items() if count == 1 for i in pair})
    level = np.full(len(z), np.inf)
    level[border] = z[border]
    for _ in range(len(z)):
        before = level.copy()
        for a, b in edges:
            level[a] = min(level[a], max(z[a], level[b]))
            level[b] = min(level[b], max(z[b], level[a]))
        if np.array_equal(before, level):
            break
    found = ll.ponding(ground, shallowest=0.0)
    assert found.depth == pytest.approx((level - z).max(), abs=1e-9)
    assert {round(p.level, 6) for p in found.ponds} == {round(x, 6) for x in level[level > z + 1e-12]}


def test_ponding_of_a_ground_without_end_wants_an_area():
    with pytest.raises(ll.InputError) as error:
        ll.ponding(LEVEL)
    assert error.value.field == "area"
    found = ll.ponding(ll.Ground.plane(slope_deg=4.0), area=(0, 0, 3, 3))
    assert found.volume == 0.0
    assert found.depth == 0.0
    assert len(found.flats) == 0


def test_a_base_course_and_a_membrane_as_quantities():
    course = ll.base_course(length=6.0, width=3.0, depth=0.2, roll_width=2.0)
    assert course["placed"] == pytest.approx(6.0 * 3.0 * 0.2)
    assert course["loose"] > course["placed"]
    assert course["barrows"] > 40
    # 3.4 m with both sides turned up; strips overlap by 0.3 m.
    assert (course["strips"], course["strip_length"], course["fabric_area"]) == (2, 6.0, 24.0)
    assert ll.membrane(4.0, 1.9) == {"strips": 2, "strip_length": 4.0, "area": 16.0}
    for wrong in ({"depth": -0.1}, {"roll_width": 0.3}, {"width": float("nan")}):
        with pytest.raises(ll.InputError) as error:
            ll.base_course(**{"length": 6.0, "width": 3.0, **wrong})
        assert error.value.field == next(iter(wrong))
