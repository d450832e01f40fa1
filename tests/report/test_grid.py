"""Tables keep their columns where they can and become records where they cannot."""

from __future__ import annotations

from coswim.report.document import Table, plain
from coswim.report.grid import table_lines
from coswim.report.wrapping import cells

TABLE = Table(
    ("species", "why", "risk"),
    (("neon tetra", "fits the mouth until month 7", "19"), ("金魚", "starves", "4")),
    frozenset({2}),
)


def drawn(width: int, *, ascii_only: bool = True) -> str:
    return "\n".join(plain(line) for line in table_lines(TABLE, width, ascii_only=ascii_only))


def test_numbers_stand_to_the_right_and_wide_letters_take_two_columns() -> None:
    assert drawn(60) == (
        "species     why                           risk\n"
        "----------  ----------------------------  ----\n"
        "neon tetra  fits the mouth until month 7    19\n"
        "金魚        starves                          4"
    )


def test_long_cells_are_wrapped_and_their_rows_set_apart() -> None:
    assert drawn(34) == (
        "species     why               risk\n"
        "----------  ----------------  ----\n"
        "neon tetra  fits the mouth      19\n"
        "            until month 7\n"
        "\n"
        "金魚        starves              4"
    )


def test_rows_become_records_where_columns_do_not_fit() -> None:
    assert drawn(20) == (
        "species: neon tetra\nwhy: fits the mouth\n  until month 7\nrisk: 19\n\nspecies: 金魚\nwhy: starves\nrisk: 4"
    )


def test_the_rule_has_a_sign_for_each_alphabet() -> None:
    assert "─" in drawn(60, ascii_only=False)
    assert drawn(60).replace("金魚", "").isascii()


def test_a_table_without_rows_is_its_header() -> None:
    assert [plain(line) for line in table_lines(Table(("a", "b"), ()), 20)] == ["a  b", "─  ─"]


def test_no_line_is_wider_than_asked() -> None:
    for width in range(12, 70):
        assert all(cells(line) <= width for line in drawn(width).splitlines())
