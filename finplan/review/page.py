"""From a review to one page of HTML that needs nothing beside itself."""

from __future__ import annotations

from finplan.record import Review
from finplan.telling import review_told
from finplan.typesetting import filled
from finplan.version import __version__


def review_html(review: Review) -> str:
    """Return the page of a review, styles and fonts inside it."""
    return filled(
        "review",
        told=review_told(review),
        shop=review.plan.shop.shop,
        digest=review.plan.digest,
        page_size="A4" if review.plan.paper == "a4" else "Letter",
        version=__version__,
    )
