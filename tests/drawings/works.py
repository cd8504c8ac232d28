"""Who works which shipped lab from its tables alone."""

from tests.drawings import careful_balance, careful_force, careful_on_the_road, careful_student

WORKED_BY = (
    careful_student.WORKED_BY
    | careful_balance.WORKED_BY
    | careful_force.WORKED_BY
    | careful_on_the_road.WORKED_BY
)
