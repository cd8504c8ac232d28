"""What a process keeps for a while, and for how long."""

from app.services.kept import Kept


def test_only_the_newest_are_kept_and_looking_makes_new() -> None:
    kept: Kept[int] = Kept(2)
    kept.put("a", 1)
    kept.put("b", 2)
    assert kept.get("a") == 1
    kept.put("c", 3)
    assert (kept.get("a"), kept.get("b"), kept.get("c")) == (1, None, 3)


def test_a_key_put_again_has_the_newer_value() -> None:
    kept: Kept[str] = Kept(2)
    kept.put(("a", 1), "old")
    kept.put(("a", 1), "new")
    assert kept.get(("a", 1)) == "new"
    assert kept.get(("a", 2)) is None
