"""Names that are legal in every program, and the mark that says so."""

import pytest

from rigxl.worksheet import lint_arguments, lint_name, mark_of, worksheet


@pytest.mark.parametrize("name", ["LEGTENSION", "SHACKLEDERATE", "UTILISATION", "A" * 24, "ABCD"])
def test_usable_names(name: str) -> None:
    assert lint_name(name) == []


@pytest.mark.parametrize(
    ("name", "said"),
    [
        # cells, rows and columns: A1 and R1C1 notation
        ("WLL2", "reads as a cell"),
        ("SWL80", "reads as a cell"),
        ("daf1", "reads as a cell"),
        ("XFD1048576", "reads as a cell"),
        ("R1C1", "row and column"),
        ("RC", "row and column"),
        ("R[-1]C[2]", "row and column"),
        ("ECHO", "old macro sheets"),
        ("RUN", "old macro sheets"),
        ("LEG_TENSION", "capital letters"),
        ("LEG.TENSION", "capital letters"),
        ("LegTension", "capital letters"),
        ("LEG", "capital letters"),
        ("A" * 25, "capital letters"),
        ("LÄNGE", "capital letters"),
        ("", "capital letters"),
        ("LEGTENSION\n", "capital letters"),
    ],
)
def test_names_some_program_cannot_use(name: str, said: str) -> None:
    assert any(said in complaint for complaint in lint_name(name))


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (["to"], "VBA keyword"),
        (["Type"], "VBA keyword"),
        (["date"], "VBA keyword"),
        (["_load"], "underscores only inside"),
        (["load_"], "underscores only inside"),
        (["load1"], "must be letters"),
        (["load", "Load"], "occurs twice"),
        (["caller"], "taken by the program"),
    ],
)
def test_argument_names_some_program_cannot_use(names: list[str], said: str) -> None:
    assert any(said in complaint for complaint in lint_arguments(names))


def test_usable_argument_names() -> None:
    assert lint_arguments(["load", "legs", "choke_angle", "from_unit"]) == []


def test_marking_refuses_a_bad_name_at_once() -> None:
    with pytest.raises(ValueError, match="reads as a cell"):
        worksheet("WLL2", example=(1,))(lambda load: load)
    with pytest.raises(ValueError, match="VBA keyword"):
        worksheet("LEGTENSION", example=(1,))(lambda to: to)


def test_marking_changes_nothing_else() -> None:
    def halved(load: float) -> float:
        return load / 2

    assert mark_of(halved) is None
    assert worksheet("HALVED", example=(2,), answer=1)(halved) is halved
    assert halved(4) == 2
    mark = mark_of(halved)
    assert mark is not None
    assert (mark.name, mark.example, mark.answer) == ("HALVED", (2,), 1)
