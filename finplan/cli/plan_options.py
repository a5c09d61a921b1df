"""The options that all commands with a timetable share, written once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from functools import cache, wraps
from inspect import Parameter, Signature, signature
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_type_hints

from finplan.cli.held import Keeping, asked_of, planned, stands_of
from finplan.cli.options import (
    AnewOption,
    AsapOption,
    BufferChoice,
    BufferOption,
    CatalogueOnlyOption,
    DeliverOption,
    DoneOption,
    FromOption,
    LedgerOption,
    LimitOption,
    LoseOption,
    NoLedgerOption,
    ReadyChoice,
    ReadyOption,
    ShopOption,
)

if TYPE_CHECKING:
    from finplan.planning import Plan, PlannedPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOptions:
    """The options, each as it was typed."""

    shop: ShopOption = None
    from_: FromOption = None
    deliver: DeliverOption = None
    asap: AsapOption = False
    buffer: BufferOption = BufferChoice.wanted
    ready_for: ReadyOption = ReadyChoice.light_use
    lose: LoseOption = None
    done: DoneOption = None
    limit: LimitOption = None
    ledger: LedgerOption = None
    no_ledger: NoLedgerOption = False
    anew: AnewOption = False
    catalogue_only: CatalogueOnlyOption = False

    def planned(
        self,
        files: Sequence[Path],
        pieces: tuple[PlannedPiece, ...],
        *,
        sure: str = "90 %",
        earliest: bool = True,
    ) -> Plan:
        """Return the plan of pieces that is asked for; the arguments are those of ``held.planned``."""
        asked = asked_of(
            self.from_, self.deliver, asap=self.asap, buffer=self.buffer, ready_for=self.ready_for, done=self.done
        )
        return planned(
            files, pieces, asked, self._keeping, sure=sure, limit=self.limit, lose=self.lose, earliest=earliest
        )

    def stands_of(self, files: Sequence[Path], plan: Plan, pieces: Sequence[PlannedPiece]) -> tuple[str, ...]:
        """Return what stands of the job by the record; as ``standing_words_of``."""
        return stands_of(files, plan, pieces, self._keeping)

    @property
    def _keeping(self) -> Keeping:
        return Keeping(self.ledger, self.no_ledger, self.anew, self.catalogue_only)


@cache
def _options() -> dict[str, Any]:
    return get_type_hints(PlanOptions, include_extras=True)


def with_plan_options(command: Callable[..., None]) -> Callable[..., None]:
    """Put the options of a plan in the place of a command's parameter *asked*."""
    hints, options = get_type_hints(command, include_extras=True), _options()
    shared = [
        Parameter(field.name, Parameter.KEYWORD_ONLY, default=field.default, annotation=options[field.name])
        for field in fields(PlanOptions)
    ]
    parameters: list[Parameter] = []
    for parameter in signature(command).parameters.values():
        own = parameter.replace(kind=Parameter.KEYWORD_ONLY, annotation=hints[parameter.name])
        parameters += shared if parameter.name == "asked" else [own]

    @wraps(command)
    def run(**given: Any) -> None:
        own = {name: given.pop(name) for name in list(given) if name not in options}
        command(**own, asked=PlanOptions(**given))

    run.__dict__["__signature__"] = Signature(parameters)
    run.__annotations__ = {own.name: own.annotation for own in parameters}
    return run
