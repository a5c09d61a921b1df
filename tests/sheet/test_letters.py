"""Which names the bundled fonts hold, language by language, and what is told of the others."""

from __future__ import annotations

import unicodedata
from dataclasses import replace

import pytest

from finplan.inputs.piece import Assembly
from finplan.planning import Plan, with_stages
from finplan.sheet import unprintable
from finplan.typesetting.fonts import lacking

# Source: Unicode CLDR 42 (ICU 72), main exemplar characters, those beyond ASCII; capitals by Unicode's own mapping.
LETTERS = {
    "Azerbaijani": "çöüğışə",
    "Belarusian": "абвгдежзйклмнопрстуфхцчшыьэюяёіў",
    "Czech": "áéíóúýčďěňřšťůž",
    "Welsh": "àáâäèéêëìíîïòóôöùúûüýÿŵŷẁẃẅỳ",
    "Ewe": "àáãèéìíòóõùúĩŋũƒɔɖɛɣʋ\u0300\u0301\u0303ẽ",
    "Greek": "\u0301\u0308ΐάέήίΰαβγδεζηθικλμνξοπρςστυφχψωϊϋόύώ",
    "Hausa": "ƙƴɓɗʼ",
    "Hungarian": "áéíóöúüőű",
    "Igbo": "ṅẹịọụ",
    "Icelandic": "áæéíðóöúýþ",
    "Kabyle": "čǧɛɣḍḥṛṣṭẓ",
    "Kazakh": "абвгдежзийклмнопрстуфхцчшщъыьэюяёіғқңүұһәө",
    "Kyrgyz": "абгдежзийклмнопрстухчшъыэюяёңүө",
    "Lingala": "áâéêíîóôúěǎǐǒɔɛ\u0301\u0302\u030c",
    "Lithuanian": "ąčėęįšūųž",
    "Latvian": "āčēģīķļņšūž",
    "Macedonian": "абвгдежзиклмнопрстуфхцчшѓѕјљњќџ",
    "Mongolian": "абвгдежзийклмнопрстуфхцчшщъыьэюяёүө",
    "Maltese": "àèìòùċġħż",
    "Polish": "óąćęłńśźż",
    "Romanian": "âîășț",
    "Russian": "абвгдежзийклмнопрстуфхцчшщъыьэюяё",
    "Serbian": "абвгдежзиклмнопрстуфхцчшђјљњћџ",
    "Tajik": "абвгдежзийклмнопрстуфхчшъэюяёғқҳҷӣӯ",
    "Turkish": "çöüğış",
    "Tatar": "абвгдежзийклмнопрстуфхцчшщъыьэюяёҗңүһәө",
    "Ukrainian": "ʼабвгдежзийклмнопрстуфхцчшщьюяєіїґ",
    "Uzbek": "абвгдежзийклмнопрстуфхчшъэюяёўғқҳ",
    "Vietnamese": "àáâãèéêìíòóôõùúýăđĩũơưạảấầẩẫậắằẳẵặẹẻẽếềểễệỉịọỏốồổỗộớờởỡợụủứừửữựỳỵỷỹ",
    "Yoruba": "àáèéìíòóùúńǹ\u0300\u0301\u0304ḿṣẹọ",
}
# Source: the national standards, as the codecs of Python's standard library map them; two bytes a character.
STANDARDS = {
    "simplified Chinese, GB 2312": ("gb2312", 6763),
    "traditional Chinese, Big5": ("big5", 13053),
    "Japanese, JIS X 0208 with kana": ("shift_jis", 6355 + 83 + 86),
    "Korean, KS X 1001": ("euc_kr", 2350 + 4888),
}


@pytest.mark.parametrize(("language", "letters"), LETTERS.items(), ids=LETTERS)
def test_alphabets(language: str, letters: str) -> None:
    assert lacking(letters + letters.upper()) == "", language


@pytest.mark.parametrize(("standard", "codec", "count"), [(key, *row) for key, row in STANDARDS.items()], ids=STANDARDS)
def test_east_asian_standards(standard: str, codec: str, count: int) -> None:
    pairs = (bytes([lead, trail]) for lead in range(0x81, 0xFF) for trail in range(0x40, 0xFF))
    decoded = {pair.decode(codec, "ignore") for pair in pairs}
    letters = {letter for letter in decoded if len(letter) == 1 and unicodedata.category(letter) == "Lo"}
    assert len(letters) >= count, standard
    assert lacking("".join(sorted(letters))) == ""


def test_every_korean_syllable() -> None:
    assert lacking("".join(map(chr, range(0xAC00, 0xD7A4)))) == ""


@pytest.mark.parametrize(
    "name", ["朱镕基", "髙﨑", "李喆", "鄧麗君", "陳堃", "Αθήνα Ɛkua Ọ̀yọ́", "№ 5, 1½″ × ¾″", "〒100 ㎡ ①"]
)
def test_names_with_rare_characters(name: str) -> None:
    assert lacking(name) == ""


@pytest.mark.parametrize(
    ("apart", "together"), [("e\u0301", "é"), ("Vie\u0302\u0323t", "Việt"), ("\u1109\u1165", "서"), ("か\u3099", "が")]
)
def test_accents_written_apart_are_shown_together(apart: str, together: str) -> None:
    assert unicodedata.normalize("NFC", apart) == together
    assert lacking(apart) == ""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("שלום", "שלום"),
        ("दिल्ली", "दिल्ी"),
        ("🪑 chair 🪑", "🪑"),
        ("a\u200db\u202ec\u2028d\u00a0e\u3000f", ""),
        ("𠮷野家", "𠮷"),
    ],
    ids=["Hebrew", "Devanagari", "emoji", "no mark on paper", "beyond the basic plane"],
)
def test_others_are_told_once_and_in_order(text: str, told: str) -> None:
    assert lacking(text) == told


def test_all_words_of_the_maker_are_looked_at(blend: Plan) -> None:
    """Each place in turn gets a letter that no bundled font has."""
    source = blend.pieces[0].source
    piece, shop = source.piece, blend.shop
    notes = {"first_page": ("ก",)}, {"every_day": ("ก",)}, {"care_card": ("ก",)}
    changed_pieces = (
        replace(piece, name="ก"),
        replace(piece, customer="ก"),
        replace(piece, parts={"ก": next(iter(piece.parts.values()))}),
        replace(piece, assemblies={"ก": Assembly(parts=("tray",))}),
    )
    changed_shops = (
        shop.model_copy(update={"people": (shop.people[0].model_copy(update={"name": "ก"}),)}),
        shop.model_copy(update={"rooms": {"ก": next(iter(shop.rooms.values()))}}),
        *(shop.model_copy(update={"notes": shop.notes.model_copy(update=note)}) for note in notes),
    )
    assert unprintable(blend) == ""
    for changed in changed_pieces:
        of_piece = replace(source, piece_file=replace(source.piece_file, piece=changed))
        assert unprintable(replace(blend, pieces=(replace(blend.pieces[0], source=of_piece),))) == "ก"
    for one in changed_shops:
        assert unprintable(with_stages(blend, shop_file=replace(blend.shop_file, shop=one))) == "ก"
