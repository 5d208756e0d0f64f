"""The models behind the numbers: what each is, where it comes from and where it ends."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Model:
    """One model in words."""

    number: str
    model: str
    source: str
    limit: str


MODELS = (
    Model(
        "Air density",
        "Standard atmosphere at the site's elevation, with the site's own temperature where given.",
        "ISO 2533:1975",
        "Below 11 km; dry air; steady wind, no gusts.",
    ),
    Model(
        "Speed down the hill and over the takeoff",
        "Energy of one rigid rider and bike along the tyres' line: gravity, air drag, rolling, "
        "brakes. Over the takeoff each ride is reckoned with three leans: square to it, in balance "
        "(the contact force through the centre of mass), and in balance but come up to the edge's "
        "own lean by the edge. The hardest of the three judges.",
        "Newton's laws for a mass on a given line",
        "No pumping, no steering, one normal for both wheels, a stiff takeoff. How a rider really leans "
        "is not known: the three bound it, they do not measure it.",
    ),
    Model(
        "Grip demand",
        "Side load over normal load at the tyres of a rider in balance, against the grip between tyre "
        "and surface.",
        "Coulomb friction",
        "Grip of wet or dusty boards and earth varies by more than a factor of two.",
    ),
    Model(
        "Flight",
        "The centre of mass under gravity and drag that grows with the square of the air speed.",
        "Newton's laws; textbook ballistics",
        "No lift, no gusts, no body movement in the air.",
    ),
    Model(
        "Leaving the edge",
        "The centre of mass leaves at the edge with the line's velocity. The front wheel leaves "
        "first: until the rear follows, bike and rider turn about it as one rigid body.",
        "Newton's and Euler's equations",
        "A rider who keeps still; real ones push, pull and shift their weight, which turns the bike "
        "far more.",
    ),
    Model(
        "Where and how hard",
        "Touchdown is when the centre of mass is as near to the ground as it rides over the tyres. "
        "Fall height is that of a plain drop with the same speed into the surface.",
        "Equivalent fall height: Hubbard (2009), J. ASTM Int. 6(1) JAI101630",
        "Ground rigid; the rider has squared up to the ground by then. Legs take up to about 1.5 m "
        "at best (a figure reported for snow jumps); most riders far less.",
    ),
    Model(
        "Who comes",
        "Classes of riders with spreads of start, exit height, mass and resistance, sampled evenly "
        "by a scrambled Sobol' sequence from one seed.",
        "Owen scrambling; the spreads are the site file's",
        "A forecast is no better than the spreads put in: measure with flags.",
    ),
    Model(
        "Earth",
        "Volume between the ground and the built shape by exact integration; "
        "loose and settled earth by the soil's swell and settlement.",
        "Swell and shrinkage: Nunnally, Construction Methods and Management, from memory; "
        "settling: USDA NRCS Agriculture Handbook 590, FAO Training Series 20/1",
        "Handbooks differ by half and more from site to site: count your first ten barrows.",
    ),
    Model(
        "Layers and hours",
        "Layers as thick as a hand tamper reaches. Hours to dig, load, carry and tamp by tables for hand "
        "labour, with the span of the tables.",
        "Layers: USDA NRCS Construction Specification 23, from memory. Hours: Guild of Project Controls; "
        "labour factors of a trades academy; Spalding, A Text-book on Roads and Pavements (1908)",
        "Tables are for paid workers on level ground: volunteers, roots, rain and hills take longer.",
    ),
)
