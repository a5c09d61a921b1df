"""Starting forms: a commented piece file, or shop file, that is right at once, from a few main sizes."""

from finplan.forms.form import Size, StartingForm, forms
from finplan.forms.piece_text import Answers, write_piece
from finplan.forms.shop_text import ShopAnswers, usual_shop, write_shop

__all__ = ["Answers", "ShopAnswers", "Size", "StartingForm", "forms", "usual_shop", "write_piece", "write_shop"]
