"""What the wheel model leaves out, told to instructors: our own words, from common practice, no source."""

from dataclasses import dataclass


@dataclass(frozen=True)
class LeftOut:
    """One part of the model: what it says, what is so beyond it, and a question to put to the class.

    teaching_model: a simplification of ours that labs and calculators call by that name.
    """

    title: str
    model: str
    beyond: str
    ask: str
    teaching_model: bool = True


LEFT_OUT: dict[str, tuple[LeftOut, ...]] = {
    "Balancing": (
        LeftOut(
            "A loose clamp reads nothing",
            "With a loose clamp the machine shows no unbalance at all.",
            "A real machine may show zeros, but as often numbers that change from spin to spin, or it stops "
            "with a fault. The assembly can walk on the shaft or come off it.",
            "An untouched assembly shows zero on both planes. What do you look at before you believe it?",
        ),
        LeftOut(
            "Dirt or a wrong cone is an offset fixed to the shaft",
            "A badly centered assembly adds one unbalance, mass times eccentricity, in the wheel’s center "
            "plane. It stays with the shaft, so half a turn on the shaft tells it from the assembly’s own.",
            "A tilted assembly adds a couple as well. Dirt shifts each time the assembly is clamped, cones "
            "and shafts wear, and a wheel that the car centers by its bolts may never sit on a cone as it "
            "sits on the car.",
            "The numbers change after you loosen and clamp again. Is it the wheel, the cone or the face?",
        ),
        LeftOut(
            "A shelf label is a small unbalance on the tread",
            "The label’s mass sits at one place of the tread until it is peeled off.",
            "Glue may stay behind, and a label can hide a nail, a cut or a dot. Other things on a tread "
            "count as much: a stone, a repair inside, water that ran in.",
            "Which weight do you take off again if the label comes off after balancing?",
        ),
        LeftOut(
            "The assembly is a rigid rotor",
            "Unbalance is the same at every speed, and weights in two planes cancel it wholly.",
            "A tire stretches and changes its shape with speed, load and heat. It has flat spots after a "
            "night on the lift’s arms or a month of parking. On the car, hub, rotor and drum add unbalance "
            "of their own.",
            "It is balanced on the machine and shakes on the road. What did the machine not see?",
            teaching_model=False,
        ),
        LeftOut(
            "The machine rounds and scatters in one simple way",
            "A step, a dead band, and a scatter with the same spread every time.",
            "Machines drift until they are calibrated. What is shown as zero is the maker’s choice of dead "
            "band, and a finer display mode doesn’t make the machine finer.",
            "Two spins differ by one step. Which one is right?",
            teaching_model=False,
        ),
        LeftOut(
            "Weights weigh what they say and sit where they are put",
            "The box holds any number of each size, exact, at one radius in one plane.",
            "A clip sits along an arc, a strip of adhesive weights is longer still, and the place behind a "
            "spoke is where there is room. A weight on a dirty rim or one hammered on twice comes off.",
            "The strip is 90 mm long. Where is its angle?",
        ),
    ),
    "Runout and force variation": (
        LeftOut(
            "The tire is a spring of one rate, which grows with pressure",
            "Force variation is the spring rate times runout, and the rate is k = k₀ (1 + 0.7 (p / p₀ − 1)).",
            "The rate depends on load, size, construction, temperature and speed, and it isn’t a straight "
            "line. The 0.7 is a fair share for a passenger tire and not a constant of any.",
            "Why is placard pressure set before anything is measured?",
        ),
        LeftOut(
            "All force harmonics grow with that rate",
            "More pressure makes each harmonic of the radial force larger in proportion.",
            "The part that comes from the tire’s shape does so roughly; the part from uneven stiffness need "
            "not. At road speed new parts appear that no slow measurement on a drum shows, and lateral and "
            "fore-and-aft forces besides.",
            "Would letting air out be a repair?",
        ),
        LeftOut(
            "The assembly’s first harmonic is the sum of two vectors",
            "The tire’s vector turns with the tire; the wheel’s is its rate times the average runout of "
            "both bead seats.",
            "A tire doesn’t seat twice in quite the same way, a bead can hang, and mounting lubricant lets "
            "it creep in the first miles. So match mounting is measured again, never only computed.",
            "After the turn half of the promised gain is there. Where may the rest be?",
        ),
        LeftOut(
            "A dial indicator reads the seat and nothing else",
            "Readings are equally spaced, in one plane, on the bead seat.",
            "Paint, rust, a weld seam or a dent are single spots: they fill the total and hardly move the "
            "first harmonic. A loose bearing reads as runout.",
            "One reading stands out from its neighbours. Keep it, clean it, or repeat it?",
            teaching_model=False,
        ),
    ),
    "On the car": (
        LeftOut(
            "Comfort is a sum with four weights",
            "Each corner’s first harmonic counts 1.00 at the driver’s front, 0.85, 0.65 and 0.50 at the "
            "other rear.",
            "Where a shake is felt depends on the car: the front more in the steering wheel, the rear more "
            "in seat and floor. Two wheels of nearly one size go in and out of step and make a shake that "
            "comes and goes.",
            "The shake is in the seat and not in the steering wheel. Does the ranking still help you?",
        ),
        LeftOut(
            "Tracking is the difference of conicities, the rear by a share of 0.3",
            "The pull is |right front − left front| plus 0.3 of the same at the rear.",
            "A car also pulls by its caster and camber, ride height, a dragging brake, the crown of the "
            "road, and ply steer, which changing sides doesn’t cure. Crossing the front tires is the test: a "
            "pull that changes sides came from the tires.",
            "The pull stays as it was after the front tires are crossed. What do you check next?",
        ),
        LeftOut(
            "Any assembly may go to any corner that is allowed",
            "Directional tires, staggered sizes and pairs on an axle are limits of the places.",
            "All-wheel drive may ask for equal tread all around; tread depth, age and repairs decide before "
            "vibration does. The pressure sensors have to learn their new corners.",
            "Which rule of the car’s maker overrules the best arrangement?",
            teaching_model=False,
        ),
        LeftOut(
            "A vibration has one source at a whole order",
            "Wheel orders 1 to 4, driveline 1 and 2, engine 0.5, 1 and 2, each exactly in step with its "
            "part.",
            "Sources sound together, exhaust and mounts answer at frequencies of their own, and a half-worn "
            "tire is a few percent off the computed circumference. Speedometers read high.",
            "Two orders fit within two percent. Which drive would tell them apart?",
            teaching_model=False,
        ),
    ),
    "Tires": (
        LeftOut(
            "Pressure follows the gas law at constant volume",
            "All the air in the tire has one temperature and the tire keeps its size.",
            "The tread runs hotter than the air, sun warms one side, and moist air rises a little more. "
            "Gauges differ by more than that.",
            "The car stood in the sun on one side. Do you set all four to the placard?",
        ),
        LeftOut(
            "A size gives the tire’s dimensions",
            "Overall diameter from the designation, rolling circumference 3.05 times that for a radial tire.",
            "Makes of one size differ by a percent or more, and wear takes another. The rim’s width, "
            "pressure and load change width and circumference.",
            "Why does the same size from two makes trouble an all-wheel drive?",
            teaching_model=False,
        ),
    ),
}
