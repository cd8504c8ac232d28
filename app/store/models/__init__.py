"""Mapped tables. A change here needs a migration; a test compares the two."""

from app.store.models.audit import Audit
from app.store.models.authoring import Draft, DraftImage, Image, Publication, VersionImage
from app.store.models.base import Base, new_public_id
from app.store.models.classes import ClassKey, Enrolment, SchoolClass, Teaching
from app.store.models.exceptions import AssignmentException
from app.store.models.gradebook import Category, HandGrade
from app.store.models.hands_on import (
    Contest,
    ContestMember,
    ContestTeam,
    HandsOnCheck,
    HandsOnSkill,
    Heat,
    HeatEvent,
)
from app.store.models.people import (
    PassPhraseCode,
    Person,
    PersonKey,
    ReceivedFile,
    SetupLink,
    SignIn,
    UnknownName,
)
from app.store.models.practice import Attempt, Event, Mark
from app.store.models.reflections import (
    Reflection,
    ReflectionAside,
    ReflectionPrompt,
    ReflectionRule,
    ReflectionSheet,
    ReflectionStep,
)
from app.store.models.scenarios import Assignment, Scenario, ScenarioVersion

__all__ = [
    "Assignment",
    "AssignmentException",
    "Attempt",
    "Audit",
    "Base",
    "Category",
    "ClassKey",
    "Contest",
    "ContestMember",
    "ContestTeam",
    "Draft",
    "DraftImage",
    "Enrolment",
    "Event",
    "HandGrade",
    "HandsOnCheck",
    "HandsOnSkill",
    "Heat",
    "HeatEvent",
    "Image",
    "Mark",
    "PassPhraseCode",
    "Person",
    "PersonKey",
    "Publication",
    "ReceivedFile",
    "Reflection",
    "ReflectionAside",
    "ReflectionPrompt",
    "ReflectionRule",
    "ReflectionSheet",
    "ReflectionStep",
    "Scenario",
    "ScenarioVersion",
    "SchoolClass",
    "SetupLink",
    "SignIn",
    "Teaching",
    "UnknownName",
    "VersionImage",
    "new_public_id",
]
