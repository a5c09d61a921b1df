"""The records of the catalogue, read from its YAML files."""

from __future__ import annotations

from collections.abc import ItemsView, Iterator, Mapping, ValuesView
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import Any

from pydantic import BaseModel

from finplan.catalogue.abrasive import Abrasive, Caps, Grades, IncomingSurface, SandingMethod
from finplan.catalogue.absorption import AbsorptionFactors
from finplan.catalogue.air import AirTarget, Evaporation, Exhaust, NearZone, Respirator
from finplan.catalogue.allowance import Allowance
from finplan.catalogue.caution import Caution
from finplan.catalogue.compatibility import Compatibility
from finplan.catalogue.consumable import Consumable
from finplan.catalogue.drying import DryingPace
from finplan.catalogue.dust import DustClass, DustLimit
from finplan.catalogue.equipment import Equipment
from finplan.catalogue.extra_step import ExtraStep
from finplan.catalogue.fault import CoatFault, FaultCause
from finplan.catalogue.files import CatalogueFiles
from finplan.catalogue.finish import Finish
from finplan.catalogue.flammability import Flammability
from finplan.catalogue.labour import Labour
from finplan.catalogue.learning import LearningRule
from finplan.catalogue.lifting import Lifting
from finplan.catalogue.measuring import Measuring
from finplan.catalogue.method import ApplicationMethod
from finplan.catalogue.moisture import WoodMoisture
from finplan.catalogue.pack import PackChoice, PackSizes
from finplan.catalogue.record import SourceRecord
from finplan.catalogue.regulation import ContactNote, OldPaint, VocLimit
from finplan.catalogue.sanding_rule import SandingRules
from finplan.catalogue.shop_air import ShopAir
from finplan.catalogue.solvent import Solvent
from finplan.catalogue.system import System
from finplan.catalogue.timber import Timber
from finplan.catalogue.time_in_hand import TimeInHand
from finplan.catalogue.waste import WasteCan
from finplan.catalogue.work import SmallJob
from finplan.catalogue.workmanship import Workmanship
from finplan.problems import RefusedError
from finplan.reading import validate
from finplan.resources import data_dir

MODELS: dict[str, type[BaseModel]] = {
    "sources": SourceRecord,
    "finishes": Finish,
    "systems": System,
    "timbers": Timber,
    "compatibility": Compatibility,
    "solvents": Solvent,
    "grades": Grades,
    "caps": Caps,
    "sanding-rules": SandingRules,
    "surfaces": IncomingSurface,
    "sanding-methods": SandingMethod,
    "abrasives": Abrasive,
    "methods": ApplicationMethod,
    "absorption": AbsorptionFactors,
    "drying": DryingPace,
    "moisture": WoodMoisture,
    "shop-air": ShopAir,
    "measuring": Measuring,
    "packs": PackSizes,
    "pack-choice": PackChoice,
    "allowances": Allowance,
    "work": SmallJob,
    "extra-steps": ExtraStep,
    "labour": Labour,
    "learning": LearningRule,
    "workmanship": Workmanship,
    "time-in-hand": TimeInHand,
    "consumables": Consumable,
    "equipment": Equipment,
    "cautions": Caution,
    "air-targets": AirTarget,
    "mixing": NearZone,
    "evaporation": Evaporation,
    "flammability": Flammability,
    "lifting": Lifting,
    "exhausts": Exhaust,
    "respirators": Respirator,
    "dust-limits": DustLimit,
    "dust-classes": DustClass,
    "old-paint": OldPaint,
    "voc-limits": VocLimit,
    "contact": ContactNote,
    "waste-cans": WasteCan,
    "fault-causes": FaultCause,
    "faults": CoatFault,
}
"""The model of the records in each file of the catalogue: ``finishes.yaml`` holds finishes, by name."""


@dataclass(frozen=True)
class Catalogue:
    """All records by kind and name.

    The bundled one makes a record when it is asked for: tests hold all of them, so that a fault in one is not looked
    for each time the program is started.
    """

    sources: Mapping[str, SourceRecord]
    finishes: Mapping[str, Finish]
    systems: Mapping[str, System]
    timbers: Mapping[str, Timber]
    compatibility: Mapping[str, Compatibility]
    solvents: Mapping[str, Solvent]
    grades: Mapping[str, Grades]
    caps: Mapping[str, Caps]
    sanding_rules: Mapping[str, SandingRules]
    surfaces: Mapping[str, IncomingSurface]
    sanding_methods: Mapping[str, SandingMethod]
    abrasives: Mapping[str, Abrasive]
    methods: Mapping[str, ApplicationMethod]
    absorption: Mapping[str, AbsorptionFactors]
    drying: Mapping[str, DryingPace]
    moisture: Mapping[str, WoodMoisture]
    shop_air: Mapping[str, ShopAir]
    measuring: Mapping[str, Measuring]
    packs: Mapping[str, PackSizes]
    pack_choice: Mapping[str, PackChoice]
    allowances: Mapping[str, Allowance]
    work: Mapping[str, SmallJob]
    extra_steps: Mapping[str, ExtraStep]
    labour: Mapping[str, Labour]
    learning: Mapping[str, LearningRule]
    workmanship: Mapping[str, Workmanship]
    time_in_hand: Mapping[str, TimeInHand]
    consumables: Mapping[str, Consumable]
    equipment: Mapping[str, Equipment]
    cautions: Mapping[str, Caution]
    air_targets: Mapping[str, AirTarget]
    mixing: Mapping[str, NearZone]
    evaporation: Mapping[str, Evaporation]
    flammability: Mapping[str, Flammability]
    lifting: Mapping[str, Lifting]
    exhausts: Mapping[str, Exhaust]
    respirators: Mapping[str, Respirator]
    dust_limits: Mapping[str, DustLimit]
    dust_classes: Mapping[str, DustClass]
    old_paint: Mapping[str, OldPaint]
    voc_limits: Mapping[str, VocLimit]
    contact: Mapping[str, ContactNote]
    waste_cans: Mapping[str, WasteCan]
    fault_causes: Mapping[str, FaultCause]
    faults: Mapping[str, CoatFault]
    files: CatalogueFiles = field(repr=False, compare=False)
    """Where the bundled records are written, which what a shop adds or overrules starts from."""

    def __getattr__(self, name: str) -> Mapping[str, Any]:
        """Return a kind that has not been asked for yet."""
        kind = name.replace("_", "-")
        if kind not in MODELS:
            msg = f"{type(self).__name__!r} object has no attribute {name!r}"
            raise AttributeError(msg)
        bundled = vars(self)[name] = _Bundled(kind, self.files)
        return bundled

    def kinds(self) -> dict[str, Mapping[str, Any]]:
        """Return the records of every kind, the kinds named as their files are."""
        return {kind: getattr(self, kind.replace("-", "_")) for kind in MODELS}

    def kinds_with(self, more: Mapping[str, Mapping[str, Any]]) -> dict[str, dict[str, Any]]:
        """Return the records of every kind with *more* of them, by kind, which count before those of the same name."""
        return {kind: {**named, **more.get(kind, {})} for kind, named in self.kinds().items()}


@cache
def bundled_catalogue() -> Catalogue:
    """Return the catalogue that comes with the program; every record is made when it is asked for, and once.

    A record raises ``RefusedError`` where its file is not as it should be.
    """
    catalogue = object.__new__(Catalogue)
    vars(catalogue)["files"] = CatalogueFiles(data_dir("catalogue"))
    return catalogue


class _Bundled(Mapping[str, Any]):
    """The records of a kind, each made when it is asked for; their file is read with the first of them."""

    def __init__(self, kind: str, files: CatalogueFiles) -> None:
        self._kind, self._files = kind, files
        self._made: dict[str, Any] = {}
        self._all: dict[str, Any] | None = None

    def __getitem__(self, name: str) -> Any:
        """Return a record; raises ``RefusedError`` where it is not as it should be."""
        record = self._made.get(name)
        if record is None:
            document = self._files.document(self._kind)
            record, findings = validate(MODELS[self._kind], document.data[name])
            if findings:
                raise RefusedError([document.problem(finding.within(name)) for finding in findings])
            self._made[name] = record
        return record

    def __contains__(self, name: object) -> bool:
        """Return whether there is a record of that name, and make none."""
        return name in self._files.document(self._kind).data

    def __iter__(self) -> Iterator[str]:
        """Give the names."""
        return iter(self._files.document(self._kind).data)

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._files.document(self._kind).data)

    def items(self) -> ItemsView[str, Any]:
        """Return the names with the records, all made the first time."""
        return self._whole().items()

    def values(self) -> ValuesView[Any]:
        """Return the records, all made the first time."""
        return self._whole().values()

    def _whole(self) -> dict[str, Any]:
        if self._all is None:
            self._all = {name: self[name] for name in self}
        return self._all


def catalogue_from(records: Mapping[str, Mapping[str, Any]], files: CatalogueFiles) -> Catalogue:
    """Return the catalogue that holds *records*, by kind and name, and rests on what is written in *files*."""
    named = {kind.replace("-", "_"): MappingProxyType(dict(named)) for kind, named in records.items()}
    return Catalogue(**named, files=files)
