"""A contract of import-linter: a room is entered by its face, the names that its ``__init__`` gives."""

from __future__ import annotations

from grimp import ImportGraph
from importlinter import Contract, ContractCheck, fields, output


class FacesContract(Contract):
    """No module of a package imports a module inside another one; its rooms, and rooms in rooms, have faces.

    ``package``: the package whose rooms they are.
    """

    type_name = "faces"
    package = fields.StringField()

    def check(self, graph: ImportGraph, verbose: bool) -> ContractCheck:
        """Return whether it is kept, and who goes past a face."""
        past = sorted(
            (importer, module)
            for importer in graph.modules
            if importer.startswith(f"{self.package}.")
            for module in graph.find_modules_directly_imported_by(importer)
            if self._is_inside(module, graph)
            and _room(module) != _room(importer)
            and _names_it(importer, module, graph)
        )
        return ContractCheck(kept=not past, metadata={"past": past})

    def render_broken_contract(self, check: ContractCheck) -> None:
        """Print who goes past a face."""
        for importer, module in check.metadata["past"]:
            output.print_error(f"{importer} imports {module}: ask {module.rpartition('.')[0]} for its names")

    def _is_inside(self, module: str, graph: ImportGraph) -> bool:
        """Return whether a module stands in a room and is no face."""
        return module.startswith(f"{self.package}.") and module.count(".") > 1 and not graph.find_children(module)


def _names_it(importer: str, module: str, graph: ImportGraph) -> bool:
    """Return whether a module is written out; else a name of the face is asked for that a module has too."""
    return any(module in one["line_contents"] for one in graph.get_import_details(importer=importer, imported=module))


def _room(module: str) -> str:
    return module.split(".")[1]
