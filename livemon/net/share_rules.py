"""Who may come in to a share, under which name, and what each may say and hear.

Names belong to whom they were first given, until the share ends: a relay shows a token of its own
beside the join code, so that nobody who also has the code can speak in its name.
"""

from dataclasses import dataclass, field
from typing import Final

from livemon.errors import UsageError
from livemon.net.share_code import read_code, same
from livemon.net.share_limits import ShareLimits
from livemon.net.share_packets import Hello
from livemon.net.share_refusals import Refusal, Refused
from livemon.net.topics import HUB, Leaf, check_id, hub_listens, read_topic, relay_listens
from livemon.net.trouble import MessageError

#: Between a join code and a relay's token; stands in neither.
_BESIDE: Final = "."
_LONGEST_TOKEN: Final = 100
#: The only messages that stay for those who come later.
_STAYS: Final = frozenset({Leaf.STATE, Leaf.META})


def password_of(secret: str, token: str) -> str:
    """Return what a relay gives as its MQTT password."""
    return f"{secret}{_BESIDE}{token}"


@dataclass(frozen=True, slots=True)
class Keys:
    """What opens the door: to the relays of a group, and to the hub."""

    group: str
    secret: str = field(repr=False)
    hub_key: str = field(repr=False)


@dataclass(slots=True)
class Register:
    """Who was let in so far."""

    keys: Keys
    limits: ShareLimits
    _tokens: dict[str, str] = field(default_factory=dict)

    def admit(self, hello: Hello, present: frozenset[str]) -> str:
        """Return the name of who says `hello`, while those `present` are connected.

        Raises:
            Refused: it may not come in.
        """
        if hello.user is None or not hello.password:
            raise Refused(Refusal.NO_CREDENTIALS)
        if not hello.clean:
            raise Refused(Refusal.NOT_OURS, "it wants messages kept back for it")
        if hello.user == HUB:
            self._check_hub(hello.password)
            return HUB
        name, token = self._relay(hello.user, hello.password)
        if hello.will is not None and not self._is_farewell(name, hello.will.topic):
            raise Refused(Refusal.FOREIGN_TOPIC, f"its will is for {hello.will.topic[:100]!r}")
        if len((present - {HUB}) | {name}) > self.limits.relays:
            raise Refused(Refusal.FULL, f"{self.limits.relays} at one time")
        self._give(name, token)
        return name

    def may_say(self, name: str, topic: str, *, stays: bool) -> bool:
        """Return whether `name` may publish there, and whether it may have it stay."""
        if name == HUB:
            return True  # this program itself
        try:
            place = read_topic(topic)
        except MessageError:
            return False
        if place.group != self.keys.group:
            return False
        own = place.relay == name and place.leaf is not Leaf.HAVE
        return own and (not stays or place.leaf in _STAYS)

    def may_hear(self, name: str, topic_filter: str) -> bool:
        """Return whether `name` may subscribe to this filter."""
        group = self.keys.group
        filters = hub_listens(group) if name == HUB else relay_listens(group, name)
        return topic_filter in {allowed for allowed, _ in filters}

    def _check_hub(self, password: str) -> None:
        if not same(password, self.keys.hub_key):
            raise Refused(Refusal.WRONG_CODE, "for the hub's own name")

    def _relay(self, user: str, password: str) -> tuple[str, str]:
        code, _, token = password.partition(_BESIDE)
        try:
            secret = read_code(code).secret
        except UsageError:
            secret = ""
        if not same(secret, self.keys.secret) or len(token) > _LONGEST_TOKEN:
            raise Refused(Refusal.WRONG_CODE)
        try:
            return check_id("relay", user), token
        except UsageError as error:
            raise Refused(Refusal.BAD_NAME, repr(user[:40])) from error

    def _is_farewell(self, name: str, topic: str) -> bool:
        if not self.may_say(name, topic, stays=True):
            return False
        return read_topic(topic).leaf is Leaf.STATE

    def _give(self, name: str, token: str) -> None:
        if name not in self._tokens and len(self._tokens) >= self.limits.names:
            raise Refused(Refusal.FULL, f"{self.limits.names} names since the start")
        if not same(self._tokens.setdefault(name, token), token):
            raise Refused(Refusal.NAME_TAKEN, name)
