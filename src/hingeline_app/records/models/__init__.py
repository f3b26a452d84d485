"""The tables of the records. Nobody outside ``hingeline_app.records`` imports them."""

from hingeline_app.records.models.aircraft import Aircraft, Surface
from hingeline_app.records.models.approved_data import ApprovedDocument, Issue, LimitRow, RowReading
from hingeline_app.records.models.attachments import Attachment, PaperRecord
from hingeline_app.records.models.counters import CounterReading, MeterChange
from hingeline_app.records.models.drafts import Draft
from hingeline_app.records.models.equipment import DailyCheck, Material, Scale, Stand
from hingeline_app.records.models.job_entries import JobEntry
from hingeline_app.records.models.jobs import Job, WorkOrder
from hingeline_app.records.models.ledger import Entry
from hingeline_app.records.models.measurements import BallastProposal, Correction, Measurement, Reading, Result
from hingeline_app.records.models.parts import Fitting, Part
from hingeline_app.records.models.passkeys import Passkey
from hingeline_app.records.models.people import Account, Person, Right, Tablet
from hingeline_app.records.models.recordings import ShakeFinding, ShakeRecording, ShakeSeries
from hingeline_app.records.models.signatures import InspectionItem, Look, Signature
from hingeline_app.records.models.tasks import CalendarFeed, Deferral, SignOff, Task
from hingeline_app.records.models.workshop import Workshop, WorkshopText

__all__ = [
    "Account",
    "Aircraft",
    "ApprovedDocument",
    "Attachment",
    "BallastProposal",
    "CalendarFeed",
    "Correction",
    "CounterReading",
    "DailyCheck",
    "Deferral",
    "Draft",
    "Entry",
    "Fitting",
    "InspectionItem",
    "Issue",
    "Job",
    "JobEntry",
    "LimitRow",
    "Look",
    "Material",
    "Measurement",
    "MeterChange",
    "PaperRecord",
    "Part",
    "Passkey",
    "Person",
    "Reading",
    "Result",
    "Right",
    "RowReading",
    "Scale",
    "SignOff",
    "ShakeFinding",
    "ShakeRecording",
    "ShakeSeries",
    "Signature",
    "Stand",
    "Surface",
    "Tablet",
    "Task",
    "WorkOrder",
    "Workshop",
    "WorkshopText",
]
