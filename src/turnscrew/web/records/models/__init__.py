"""The tables, one module a noun; no rule of the trade."""

from turnscrew.web.records.models.access import (
    ApiToken,
    ContactLink,
    SentSheet,
    SignInLink,
)
from turnscrew.web.records.models.arrival import (
    AdapterCheck,
    ArrivalMark,
    Finishing,
    LockRequest,
    MissingPiece,
    Sighting,
    Trial,
    Viewing,
)
from turnscrew.web.records.models.batch import Batch, Expected, ListedRow, Tranche
from turnscrew.web.records.models.bench import Bench, BenchRun, BenchStroke, Description
from turnscrew.web.records.models.customer import (
    Asset,
    Contact,
    Customer,
    Duty,
    Fleet,
    Site,
)
from turnscrew.web.records.models.handover import Accessory, DataPart, Signature
from turnscrew.web.records.models.how_it_reads import HowItReads
from turnscrew.web.records.models.item import Item
from turnscrew.web.records.models.job import Approval, Finding, Job, WrittenYes
from turnscrew.web.records.models.journal import Entry, EntryWords, Head
from turnscrew.web.records.models.money import Invoice, InvoiceLine, Payment, Quote
from turnscrew.web.records.models.part import (
    Allotment,
    Donor,
    DonorPart,
    KnownGood,
    LookAlike,
    Lot,
    OrderLine,
    Part,
    PartFit,
)
from turnscrew.web.records.models.person import Absence, Person, SignOff
from turnscrew.web.records.models.photo import Photo
from turnscrew.web.records.models.safety import (
    Incident,
    PackLog,
    SafetyCheck,
    SafetyKind,
)
from turnscrew.web.records.models.supplier import PartPhoto, SupplierReturn
from turnscrew.web.records.models.waste import Waste

__all__ = [
    "Absence", "Accessory", "AdapterCheck", "Allotment", "ApiToken", "Approval",
    "ArrivalMark", "Asset", "Batch", "Bench", "BenchRun", "BenchStroke", "Contact",
    "ContactLink", "Customer", "DataPart", "Description", "Donor", "DonorPart", "Duty",
    "Entry", "EntryWords", "Expected", "Finding", "Finishing", "Fleet", "Head",
    "HowItReads", "Incident", "Invoice", "InvoiceLine", "Item", "Job", "KnownGood",
    "ListedRow", "LockRequest", "LookAlike", "Lot", "MissingPiece", "OrderLine",
    "PackLog", "Part", "PartFit", "PartPhoto",
    "Payment", "Person", "Photo", "Quote", "SafetyCheck", "SafetyKind", "SentSheet",
    "SignInLink",
    "Sighting", "SignOff", "Signature", "Site", "SupplierReturn", "Tranche", "Trial",
    "Viewing", "Waste", "WrittenYes",
]  # fmt: skip
