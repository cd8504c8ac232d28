"""Who is in the demo class. Every name is invented."""

INSTRUCTOR = "Robin Alder"
INSTRUCTOR_SIGN_IN = "robin.alder"
CLASS_NAME = "Automotive Technology II, period 3"
CLASS_TIME_ZONE = "America/Chicago"

STUDENTS = (
    "Ada Birchwood", "Ben Cinder", "Cleo Dunmore", "Dario Elmsley", "Esme Fallow", "Finn Garrow",
    "Gia Hartwell", "Hugo Inskip", "Ivy Jessamy", "Jonas Kestrel", "Kira Lindqvist", "Leo Marrow",
    "Mina Norcross", "Nico Oakhurst", "Opal Pembry", "Petra Quill", "Quinn Rushmore", "Rosa Sandoval-Hay",
    "Sami Thorne", "Tess Underhill", "Uma Vale", "Victor Wexley", "Wren Yarrow", "Zane Zeller",
)  # fmt: skip

JOINED_LATE = "Zane Zeller"
AWAY = "Uma Vale"
LATE = "Hugo Inskip"
TOLD_AT_THE_MACHINE = "Leo Marrow"
