"""Where pieces are finished: the room as safety reckons with it, and what its air may do to the wood."""

from __future__ import annotations

from collections.abc import Sequence

from finplan.climate import log_findings
from finplan.planning.piece import PlannedPiece
from finplan.planning.source import Source
from finplan.planning.wood import wood_risks
from finplan.problems import Problem
from finplan.safety import Around, CautionLine, DustReport, background_of, cautions, dangers, dust_report
from finplan.timetable import Timetable


def around_of(source: Source) -> Around:
    """Return where a piece is finished, as its safety is reckoned; what shares the shop with it is there too."""
    return Around(
        catalogue=source.catalogue,
        shop=source.shop,
        rooms_given="rooms" not in source.shop_file.defaults,
    )


def air_risks(pieces: Sequence[PlannedPiece], timetable: Timetable) -> tuple[Problem, ...]:
    """Return the warnings about the air of the shop: what it does to the wood, and a log that does not reach so far.

    The default shop is nobody's; nothing is said of its air.
    """
    shop_file = pieces[0].source.shop_file
    if shop_file.document is None or timetable.start is None or timetable.ready is None:
        return ()
    beyond = log_findings(shop_file.shop.climate, timetable.start, timetable.ready)
    return (*wood_risks(pieces, timetable.start), *(shop_file.document.problem(finding) for finding in beyond))


def cautions_of_piece(piece: PlannedPiece) -> tuple[CautionLine, ...]:
    """Return the cautions that a piece calls for whenever it is finished, before any day is planned."""
    catalogue = piece.source.catalogue
    return cautions(piece.treatments, catalogue, background_of([piece.sanding], around_of(piece.source)))


def dust_of(piece: PlannedPiece) -> DustReport:
    """Return what the dust of a piece means for the air where it is sanded."""
    source = piece.source
    around, shop = around_of(source), source.shop
    there = dangers(piece.treatments, source.catalogue, background_of([piece.sanding], around))
    room = shop.room_for("sanding")
    volume_ml = shop.rooms[room].volume_ml if room and around.rooms_given else None
    return dust_report(
        piece.sanding.dust_g,
        hardwood="hardwood-dust" in there,
        lead="old-paint" in there,
        room=room if around.rooms_given else None,
        volume_m3=None if volume_ml is None else volume_ml / 1e6,
        catalogue=source.catalogue,
    )
