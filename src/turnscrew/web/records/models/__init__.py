"""The tables, one module a noun; no rule of the trade."""

from turnscrew.web.records.models.access import ApiToken, ContactLink, SignInLink
from turnscrew.web.records.models.batch import Batch, ListedRow, Tranche
from turnscrew.web.records.models.bench import Bench, BenchRun, BenchStroke, Description
from turnscrew.web.records.models.customer import Asset, Contact, Customer, Fleet, Site
from turnscrew.web.records.models.handover import Accessory, DataPart, Signature
from turnscrew.web.records.models.item import Item
from turnscrew.web.records.models.job import Approval, Finding, Job
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
)
from turnscrew.web.records.models.person import Absence, Person, SignOff
from turnscrew.web.records.models.photo import Photo
from turnscrew.web.records.models.safety import SafetyCheck, SafetyKind

__all__ = [
    "Absence", "Accessory", "Allotment", "ApiToken", "Approval", "Asset", "Batch",
    "Bench", "BenchRun", "BenchStroke", "Contact", "ContactLink", "Customer",
    "DataPart", "Description", "Donor", "DonorPart", "Entry", "EntryWords", "Finding",
    "Fleet", "Head", "Invoice", "InvoiceLine", "Item", "Job", "KnownGood", "ListedRow",
    "LookAlike", "Lot", "OrderLine", "Part", "Payment", "Person", "Photo", "Quote",
    "SafetyCheck", "SafetyKind", "SignInLink", "SignOff", "Signature", "Site",
    "Tranche",
]  # fmt: skip
