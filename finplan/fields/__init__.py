"""All that may be written in a piece file and a shop file, told from the models that read them."""

from finplan.fields.lines import field_topic_lines, topics_lines
from finplan.fields.schema import piece_schema, shop_schema
from finplan.fields.topics import Described, Topic, described, shape_picture, topic_named, topics, topics_with

__all__ = [
    "Described",
    "Topic",
    "described",
    "field_topic_lines",
    "piece_schema",
    "shape_picture",
    "shop_schema",
    "topic_named",
    "topics",
    "topics_lines",
    "topics_with",
]
