"""The scripts here make the reference values; they need a modelling kernel and are run by hand."""

collect_ignore_glob = ["cad_*.py"]
