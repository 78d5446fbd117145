"""All rules, in the order in which findings of one severity are listed."""

from scoring.contract import CHECK_BY_NAME
from scoring.contract.rework import ACTION_BY_NAME
from scoring.rules.cure_of_a_finding import CURES_BY_CAUSE
from scoring.rules.engagement import ENGAGEMENT_RULES
from scoring.rules.housing import HOUSING_RULES
from scoring.rules.key_and_retention import KEY_AND_RETENTION_RULES
from scoring.rules.rule import Rule
from scoring.rules.slip import CURES as CURES_OF_SLIP
from scoring.rules.slip import SLIP_RULES
from scoring.rules.surfaces import SURFACE_RULES
from scoring.rules.tightening import TIGHTENING_RULES
from scoring.rules.torque_arm import TORQUE_ARM_RULES

RULEBOOK: tuple[Rule, ...] = (
    *ENGAGEMENT_RULES,
    *SURFACE_RULES,
    *KEY_AND_RETENTION_RULES,
    *TORQUE_ARM_RULES,
    *TIGHTENING_RULES,
    *HOUSING_RULES,
)

NAMED_SOMEWHERE = frozenset(
    (
        *(rule.action for rule in RULEBOOK),
        *CURES_OF_SLIP.values(),
        *(name for cause in CURES_BY_CAUSE for name in (*cause.actions, *cause.also)),
    )
)
"""Actions that some rule or cause names; another one is weighed wherever it may cure something."""

RULE_BY_NAME: dict[str, Rule] = {rule.name: rule for rule in (*RULEBOOK, *SLIP_RULES)}


def _refuse_a_broken_rulebook() -> None:
    """Every rule judges a check of the contract and names an action that cures it."""
    if len(RULE_BY_NAME) != len(RULEBOOK) + len(SLIP_RULES):
        raise AssertionError("two rules bear one name")
    for rule in RULEBOOK:
        check = CHECK_BY_NAME[rule.check]
        if rule.action and check.name not in ACTION_BY_NAME[rule.action].cures:
            raise AssertionError(f"rule {rule.name}: {rule.action} does not cure {check.name}")


_refuse_a_broken_rulebook()
