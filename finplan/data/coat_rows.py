"""The keys of what a coat takes and how it is mixed."""

from __future__ import annotations

from finplan.data.row import AtLeastOne, CountFromOne, NotNegative, row
from finplan.quantity import Range


@row
class AmountRow:
    """Amount.

    A quantity in the `measure` beside it, and how much of it is enough.
    """

    low: float
    """The 5th percentile."""
    typical: float
    """With everything as it typically is, which is near the 50th."""
    high: float
    """The 95th."""
    at_confidence: float
    """Enough with the confidence asked for."""


@row
class MeasuredRow:
    """Measured out."""

    name: str
    """What it is."""
    volume_ml: NotNegative | None
    """By volume; null of what is only weighed. [ml]"""
    mass_g: NotNegative | None
    """By mass; null of what is only poured. [g]"""


@row
class MixRow:
    """Mix."""

    batches: CountFromOne
    """How often it is measured out, so that none outlasts its pot life."""
    decant: MeasuredRow
    """What is poured out for one batch, its components together, without thinner."""
    of_batch: MeasuredRow
    """The same of a batch that is mixed for several coats at once, of which no smallest measure makes it more."""
    up_to_ml: NotNegative
    """The most that all batches together may take, never less than is poured out. [ml]"""
    parts: tuple[MeasuredRow, ...]
    """The components of one batch; empty of what comes ready."""
    thinner: MeasuredRow | None
    """The thinner of one batch."""
    use_within_h: NotNegative | None
    """How long a batch can be worked. [h]"""


@row
class CoatSideRow:
    """Side of a coat."""

    coat: str
    """The coat with its faces, as a step of the timetable names it."""
    area_m2: NotNegative
    """Of these faces. [m²]"""
    as_put_on_ml: Range
    """Their share of the coat, without thinner. [ml]"""
    mix: MixRow
    """What is measured out for them."""


@row
class CoatedFacesRow:
    """Faces of a coat."""

    part: str
    """The part."""
    faces: tuple[str, ...]
    """Its faces that are treated alike."""
    area_m2: NotNegative
    """Their area, of all parts. [m²]"""
    liquid: Range
    """What they take, thinner included. [ml]"""


@row
class CoatRow:
    """Coat."""

    piece: str
    """The piece; empty for the sample board."""
    item: str
    """The item."""
    coat: str
    """The coat, as it stands on the sheet."""
    area_m2: NotNegative
    """Of the faces that get it. [m²]"""
    needed: AmountRow
    """In the measure of the material."""
    as_put_on_ml: Range
    """Without thinner. [ml]"""
    thinner: Range
    """The thinner in it. [ml]"""
    groups: tuple[CoatedFacesRow, ...]
    """What each group of faces takes."""
    stays_in_tool: Range
    """What stays in the tool and the pot. [ml]"""
    dry_film_um: Range | None
    """The dry film, where a coat is planned by it. [µm]"""
    wet_film_um: Range | None
    """The wet film that makes it, thinner included. [µm]"""
    comb_gauge_um: Range | None
    """Between which marks the comb gauge is to stand. [µm]"""
    thickness_factor: AtLeastOne
    """How many times as heavy as usual it is, 1 at the least."""
    mix: MixRow | None
    """What is measured out; null where that is done for each side by itself."""
    sides: tuple[CoatSideRow, ...]
    """Where it is put on one side after the other: the first and the second; else empty."""


@row
class SolventUseRow:
    """Use of a solvent."""

    piece: str
    """The piece; empty where it is for all."""
    item: str
    """The item."""
    coat: str
    """The coat, or the cleaning."""
    area_m2: NotNegative | None
    """Of the faces that get it; null of what is no surface. [m²]"""
    needed: AmountRow
    """In the measure of the material."""


@row
class MakeUpRow:
    """Solution made up."""

    finish: str
    """A name in the catalogue."""
    volume_ml: NotNegative
    """Of the solution. [ml]"""
    parts: tuple[MeasuredRow, ...]
    """The solid and the liquid."""
    strength_g_l: NotNegative
    """Of solid in a litre of liquid. [g/l]"""
    cut_lb_gal: NotNegative
    """The same in pounds to a US gallon. [lb/gal]"""
    wait_h: Range | None
    """How long it takes to dissolve. [h]"""
