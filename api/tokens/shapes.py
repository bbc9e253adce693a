"""Tokens as they are asked for and answered."""

from rest_framework import serializers

from planner.domain.permissions import Action
from planner.selectors.nouns import ApiToken

_ACTIONS = [(action.value, action.words) for action in Action]


class TokenShape(serializers.ModelSerializer[ApiToken]):
    """A token without its secret."""

    user = serializers.CharField(source="user.username", read_only=True)
    actions = serializers.ListField(child=serializers.ChoiceField(choices=_ACTIONS), read_only=True)

    class Meta:
        """Never the digest."""

        model = ApiToken
        fields = (
            "id", "user", "name", "actions", "made_at", "expires_at", "revoked_at", "last_used_at", "version",
        )  # fmt: skip


class NewTokenShape(TokenShape):
    """A token as it is told once; a repeated request is answered without the secret."""

    secret = serializers.CharField(allow_null=True, read_only=True)

    class Meta(TokenShape.Meta):
        """The secret besides."""

        fields = (*TokenShape.Meta.fields, "secret")  # type: ignore[assignment]


class TokenMake(serializers.Serializer[ApiToken]):
    """What a token is for, and until when."""

    name = serializers.CharField(max_length=80)
    actions = serializers.ListField(
        child=serializers.ChoiceField(choices=_ACTIONS), min_length=1, max_length=len(_ACTIONS)
    )
    expires_at = serializers.DateTimeField()
