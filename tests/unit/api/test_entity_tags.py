"""Entity tags: of what is told, whatever order its members come back in."""

from api.base.entity_tags import entity_tag


def test_members_in_another_order_are_the_same_thing() -> None:
    # PostgreSQL keeps an object by the length of its members' names.
    assert entity_tag({"a": {"time": "t", "by": 1}}) == entity_tag({"a": {"by": 1, "time": "t"}})


def test_another_value_or_another_order_of_a_list_is_another_thing() -> None:
    assert entity_tag({"a": 1}) != entity_tag({"a": 2})
    assert entity_tag([1, 2]) != entity_tag([2, 1])
