"""What the maker writes: the piece file and the shop file, as validated models."""

from finplan.inputs.piece import Assembly, Joint, Known, Piece, PieceFile, load_piece, piece_from, read_piece

__all__ = ["Assembly", "Joint", "Known", "Piece", "PieceFile", "load_piece", "piece_from", "read_piece"]
