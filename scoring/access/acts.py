"""The roles there are, and what each may do: one table, which all checks go by."""

from enum import Enum


class Role(Enum):
    """What a person is here; one may be several."""

    INSPECTOR = "inspector"
    ENGINEER = "engineer"
    MANAGER = "manager"
    ADMINISTRATOR = "administrator"


class Act(Enum):
    """Something that a person may do, as it is said in a refusal."""

    SEE = "see units, what was found at them and how they rank"
    WALK = "begin, answer and sign a walkdown"
    GIVE_UP = "give up a walkdown that somebody else began"
    ENTER = "enter re-work, failures and accepted findings"
    RELEASE = "release a unit to start"
    KEEP_VIEW = "keep a view of a page by name"
    SEE_PLANS = "see plans"
    KEEP_PLAN = "keep and withdraw plans"
    SEE_TREND = "see the trend"
    SEE_MONEY = "see money"
    BRING = "bring in records"
    GRANT = "grant and withdraw roles"


_ALL_BUT_GRANT = (Role.INSPECTOR, Role.ENGINEER, Role.MANAGER)

MAY: dict[Act, frozenset[Role]] = {
    Act.SEE: frozenset(_ALL_BUT_GRANT),
    Act.WALK: frozenset((Role.INSPECTOR, Role.ENGINEER)),
    Act.GIVE_UP: frozenset((Role.ENGINEER,)),
    Act.ENTER: frozenset((Role.ENGINEER,)),
    Act.RELEASE: frozenset((Role.ENGINEER, Role.MANAGER)),
    Act.KEEP_VIEW: frozenset(_ALL_BUT_GRANT),
    Act.SEE_PLANS: frozenset((Role.ENGINEER, Role.MANAGER)),
    Act.KEEP_PLAN: frozenset((Role.ENGINEER,)),
    Act.SEE_TREND: frozenset((Role.ENGINEER, Role.MANAGER)),
    Act.SEE_MONEY: frozenset((Role.ENGINEER, Role.MANAGER)),
    Act.BRING: frozenset((Role.ENGINEER,)),
    Act.GRANT: frozenset((Role.ADMINISTRATOR,)),
}
"""Who may do what, at their own sites. Planning values of ours."""
