"""A job looked back on, as a page to print and file."""

from finplan.review.page import review_html

__all__ = ["review_html"]
