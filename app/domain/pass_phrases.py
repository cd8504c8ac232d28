"""Pass phrases that are easy to read from a card and to type on a tablet.

The words are our own choice: plain, friendly English of 3 to 6 letters. Each word drawn adds
log2(1,458) = 10.5 bits: a student's three words have 32 bits, an instructor's five have 53. Three are enough
at the sign-in page, which waits ever longer after a few wrong tries. Against a stolen copy of the database
they are a delay (about a processor's year for each phrase, at 20 ms a guess): keep a backup like a gradebook.
"""

import re
import secrets

from app.domain import texts

WORDS_FOR_A_STUDENT = 3
WORDS_FOR_AN_INSTRUCTOR = 5
LONGEST_PASS_PHRASE = 200

WORDS = """
able active adapt adjust advice ahead air aisle alarm album alert alley almond alpine amber amuse anchor
angle animal ankle answer apple apply apron arch arctic area arena arrow art artist aspen asset atlas atom
attic audio aunt author autumn awake award aware axle back badge bag bagel bake baker ball ballad bamboo
banana band banjo bank banner barge bark barn barrel base basil basin basket batch baton bay beach beacon
bead beam bean bear bee beech beef beet begin beige bell belong belt bench bend berry best better bike bin
birch bird bison blade blend blimp blink block bloom blouse blue bluff board boat boil bolt bonnet bonus
book boost boot border borrow bottle bottom bounce bow bowl box brain branch brass brave bread breeze brick
bridge bright brisk broad broom broth brown brush bucket buckle bud buddy budget bugle build bulb bumper
bunny bus butter button cabin cable cactus cake calf call calm camel camera camp canal canary candle candy
canoe canvas canyon cap cape car carbon card care cargo carol carpet carrot carry cart carve case cashew
castle cat catch cave cedar celery cell cello cement center cereal chain chair chalk chance change charm
chart chat check cheer cheese cherry chess chill chime chip choice choir choose chorus cinema circle circus
citrus city clay clean clear clerk clever cliff climb clinic clock close cloth cloud clover club clue coach
coast coat cobalt cocoa code coffee coil coin cold collar color colt column comb comedy comet comic common
cook cookie cool copper copy coral cord core cork corn corner cosmic cotton couch count course cousin cover
coyote cozy crane crate crayon cream create creek crew crisp crop crown cruise crumb crust cube cup curb
curl curry curve custom cycle dad daily dairy daisy dance dart dash data date dawn day deal dear deck deep
deer delta den denim depot depth desert design desk detail device dial diary dime dine diner dinner dish
disk dive dock doctor dog dollar dome donkey door dot double dough dove down dozen draft dragon draw dream
dress drift drill drive drop drum duck duet dune dusk duty eager eagle ear early earn earth easel east echo
edge edit effort egg elbow elder elk elm ember energy engine enjoy enter entry equal errand event exact
excel exit expand expert fable fabric fact fair family famous fan fancy farm farmer fast father faucet favor
feast fence fern ferry fetch fiber fiddle field fig figure file film filter final finger finish fir fish fix
flag flair flame flash flavor flax fleet flight flint flip float flock floor flour flow flower fluid flute
foam focus fog foil fold folk follow food forest forge fork form fort forum fossil found fox frame free
fresh friend fringe frog front frost fruit fuel fun fund funny fur future galaxy gale gallon game garage
garden garlic gate gather gauge gear gecko gem gentle giant gift ginger glad glass gleam glide globe glory
glove glow glue goal goat gold golf goose gown grace grade grain grand grape graph grass gravel green greet
grid grill grin grip group grove grow guard guess guest guide guitar gull guppy gym habit hair half hall
hammer hand handle happy harbor hare harp hat hatch hawk hay hazel head health heart heat heavy hedge height
hello helmet help hen herb herd heron high hike hill hint hire hive hobby hold holly home honey hook hop
hope horse hose hotel hour house hover hub huge humble humor hurry hut ice icicle icon idea igloo image inch
index ink inlet inn inner insect inside invent invite iris iron island issue item ivory ivy jacket jade
jaguar jam jar jazz jeans jelly jersey jet jewel jigsaw job jog join joke jolly joy juice jump jungle junior
kayak keen keep kelp kernel kettle key kick kind kiosk kit kite kitten kiwi knee knit knot koala label lace
ladder lagoon lake lamb lamp land lane lap large lark latch laugh launch laurel lawn layer lead leaf league
learn leash legend lemon lend lens lentil lesson letter level lever light lilac lily lime limit line linen
lion list listen live lizard llama loaf local lock locket log logic long look loop lotus loud lounge loyal
lucky lumber lunar lunch lute lyric magic magnet mail main maize major mall mallet mammal manage mango map
maple marble march margin marina mark market marsh mason mat match math matrix matter mayor maze meadow meal
medal medium meet mellow melody melon melt memo memory mend menu merit merry mesh metal meteor meter method
metro middle mild mile milk mill mimic mind mint minute mirror misty mitten mix mobile model modern modest
moment money month moon moose moss motel motion motor mount mouth move movie mud muffin mule museum music
mute mutual myth nail name nap napkin narrow nation nature navy neat nectar needle neon nephew nest net news
nice nickel niece night nine nod noise noodle noon normal north nose note notice novel nugget number nurse
nylon oak oasis oat object oboe ocean ochre offer office oil olive omelet onion online onyx open opera
orange orbit orchid order origin osprey otter ounce outer outfit oval oven owl oxygen oyster pace pack
paddle page pail paint palace palm panda panel pansy pantry paper parade parcel parent park parrot part
pasta paste pastel patch path patio patrol pause pave peace peach peak peanut pear pearl pebble pecan pedal
peel pen pencil penny people pepper perch permit pet petal phone photo phrase piano pick picnic piece pigeon
pillow pilot pine pink pipe pizza place plaid plain plan plane planet plant plate play plaza plenty plot
plow plug plum plus pocket poem poet point polar polish polite polka pollen polo pond pony pool poplar poppy
porch port post poster potato potter pound powder power praise pretty pride prime print prism prize proof
proper prune public puddle pull pulse pump puppet puppy pure purple puzzle quail quake quart quartz quest
quick quiet quill quilt quiz quota quote rabbit race radar radio radish raft rail rain raise raisin rake
ramp ranch range rapid rare raven ravine reach read real recipe record red reed reef refill region relax
relay rely remind remote rent repair reply report rescue rest result return review reward rhyme rhythm
ribbon rice ride ridge right ring rinse ripe ripple rise river road roast robin robot rock rocket rodeo roll
roof room root rose round route rover row ruby rudder rug rule ruler run runner rural saddle safari sail
salad salmon salsa salt salute sample sand sandal satin sauce savor saw scale scarf scene school scoop scope
score scout scrap screen script scroll sea seal search season seat second seed select sell send senior sense
series serve set settle shade shadow shape share shawl shed sheep sheet shelf shell shield shift shine ship
shirt shoe shop shore show shower shrimp shrub side sight sign signal silk silver simple sing single sip
sister sit site size skate sketch skill skip sky slate sled sleeve slice slide slope small smart smile
smooth snack snail snap snow soap soccer social sock soda sofa soft soil solar solid solo solve sonar song
sort sound soup source south space spare spark speak speech speed sphere spice spin spiral splash spoon
sport spot spray spread spring sprout spruce square squash stable stack staff stage stair stamp stand staple
star start state static statue stay steady steam steel stem step stereo stick stitch stone stop store storm
story stove straw stream street string stripe studio study style sugar summer summit sun sunny sunset supper
supply surf swan swift swim swing switch symbol syrup system table tablet taco tailor talent talk tall tango
tape task taste tea teach team teapot tennis tent term test text thank theme thick think third thread thrive
thumb ticket tide tidy tie tiger tile timber time timer tin tire title toast today tofu token tomato tone
tonic tool top topic touch tour towel tower town toy track trade trail train trait travel tray treat tree
trek trend trip trophy trot trout truck true trust truth tuba tube tulip tuna tune tunnel turn turnip turtle
tutor twelve twig twin twist type uncle union unique unit upper urban useful vacant valley value valve van
vapor vase vast vault velvet vendor verb verse video view villa vine vinyl violet violin visit visor vivid
vocal voice volume vote voyage wafer waffle wagon wait wake walk wall wallet walnut walrus waltz wander warm
wash watch water wave way weave web week well west wheat wheel whisk white willow win wind window wing
winner winter wire wise wish wolf wonder wood wool word work world wrap wren wrench wrist write yacht yam
yard yarn year yeast yellow yoga yogurt zebra zero zest zigzag zinc zinnia zipper zone zoom
""".split()  # noqa: SIM905 a list of 1,458 literals would fill 1,458 lines


def make_pass_phrase(words: int = WORDS_FOR_A_STUDENT) -> str:
    """That many words, drawn independently from the system's secure source, joined by spaces."""
    return " ".join(secrets.choice(WORDS) for _ in range(words))


def normalised(typed: str) -> str:
    """A pass phrase as it is compared: a tablet's capital letter, a hyphen or a second space locks nobody
    out."""
    text = texts.normalised(typed, "NFKC").casefold()
    return " ".join(re.sub(r"[-\u2010-\u2015]", " ", text).split())
