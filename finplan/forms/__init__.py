"""Starting forms: a commented piece file, or shop file, that is right at once, from a few main sizes."""

from finplan.forms.form import Size, StartingForm, forms
from finplan.forms.piece_text import Answers, write_piece

__all__ = ["Answers", "Size", "StartingForm", "forms", "write_piece"]
