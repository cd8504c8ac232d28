"""What the invented students write in their own words, with the slips that real ones make."""

REASONS = (
    "The least shaking goes nearest the driver because the front is felt most in the wheel and the seat.",
    "I put the worst one at the back on the other side, it is farthest from the driver.",
    "Least variation by the driver, most variation far away. The steering wheel feels the front ones.",
    "because its smoother",
)

BY_PROMPT = {
    "senses": (
        "It feels how hard the wheel pulls on the shaft while it turns. The width it only knows from me.",
        "It senses the shaking. It calculates the ounces from the sizes I typed in.",
        "The force going round. Where the weights sit it has to believe me.",
    ),
    "check": (
        "The check spin. With the wrong width it would not have come to zero.",
        "Check spin would have shown it. We skipped it because the bell rang.",
        "Measuring the width a second time, because everything after it uses that number.",
    ),
    "next": (
        "I put the weight on the heavy spot first. The mark is where it is heavy, the weight goes across.",
        "I mixed up inboard and outboard. I will write IN and OUT on the sheet before I start.",
        "Adding the grams alone gave me the wrong answer. Next time I draw the arrows.",
        "None, but the angle took me long. I will mark the valve with chalk first.",
    ),
    "balance": (
        "The weights were right. It was not round, and a weight can't make it round.",
        "Balance is about weight. This one had a high spot, so it lifts the car every turn anyway.",
        "A balancer lets it hang in the air. On the road the high spot pushes.",
    ),
    "readings": (
        "The biggest number can be one bump. The once around part says where to turn the tire.",
        "By eye you mark the bump and match the wrong place.",
        "I did not know the readings need to be split into the once around part. The total was bigger.",
    ),
    "careful": (
        "Which way to turn the tire. I drew it and checked the sum of the arrows got shorter.",
        "Clockwise seen from outside. I looked from behind once and had it backwards.",
    ),
    "order": (
        "Balance is last. If you swap a tire to another wheel later all the weights are wrong.",
        "Ages first, because a tire that is too old is not mounted at all.",
    ),
    "conflict": (
        "If it shakes or if it pulls, and how fast they drive most days.",
        "I would ask which one bothers them more.",
    ),
    "own-work": (
        "The placement. I would add up the other order too and compare.",
        "Pressure, with another gauge.",
    ),
}
"""By the id of the prompt."""

UNDER_ANY_PROMPT = (
    "Reading the degrees. I will say them out loud with my partner holding the wheel.",
    "Going fast. I will do the check spin before I take it off.",
    "The minus signs. I will write the direction as a word next to each number.",
)
