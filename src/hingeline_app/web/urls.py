"""Which address is which page."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path

from hingeline_app.web import passkey_talk
from hingeline_app.web.hangar_addresses import HANGAR
from hingeline_app.web.look import look
from hingeline_app.web.middleware import when_it_fails
from hingeline_app.web.pages.bench import at_scan, bench, new_job, order
from hingeline_app.web.pages.entrance import demo, home, lock, own, set_up, sign_in, this_tablet
from hingeline_app.web.pages.job import job, job_file, job_instead, job_photograph, job_pictures, job_sign
from hingeline_app.web.pages.limits import limit_row, limits
from hingeline_app.web.pages.recordings import (
    arriving,
    recording_following,
    recording_marks,
    recording_new,
    recording_replay,
    recording_tap,
    recordings,
    series,
)
from hingeline_app.web.pages.records import backups, carrying, kept_elsewhere, ledger, records_list
from hingeline_app.web.pages.why_balance import own_model, study, why_balance, why_balance_bench
from hingeline_app.web.pages.workshop import (
    aircraft,
    onboarding,
    part,
    people,
    scales,
    security,
    shop_sums,
    stands,
    tablets,
    trust,
    workshop,
)
from hingeline_app.web.print_addresses import PRINTS

handler400 = when_it_fails.not_so
handler403 = when_it_fails.turned_away
handler404 = when_it_fails.not_there
handler500 = when_it_fails.uncaught

DOORS: list[URLPattern | URLResolver] = [
    path("", home.home, name="home"),
    path("look.css", look, name="look"),
    path("light", lock.light, name="light"),
    path("demo", demo.demo, name="demo"),
    path("set-up", set_up.set_up, name="set-up"),
    path("trust", trust.trust, name="trust"),
    path("trust/workshop-authority.crt", trust.trust_certificate, name="trust-certificate"),
    path("sign-in", sign_in.sign_in, name="sign-in"),
    path("sign-in/password", sign_in.sign_in_password, name="sign-in-password"),
    path("sign-in/passkey", passkey_talk.options_to_sign_in, name="passkey-sign-in"),
    path("sign-in/<uuid:account>", sign_in.sign_in_pin, name="sign-in-pin"),
    path("sign-out", sign_in.sign_out, name="sign-out"),
    path("switch", sign_in.switch, name="switch"),
    path("lock", lock.lock, name="lock"),
    path("lock/now", lock.lock_now, name="lock-now"),
    path("prove", lock.prove, name="prove"),
    path("prove/passkey", passkey_talk.options_to_prove, name="passkey-prove"),
    path("draft", lock.draft, name="draft"),
]
OWN: list[URLPattern | URLResolver] = [
    path("own", own.own, name="own"),
    path("own/pin", own.own_pin, name="own-pin"),
    path("own/password", own.own_password, name="own-password"),
    path("own/passkey", own.own_passkey, name="own-passkey"),
    path("own/passkey/options", passkey_talk.options_to_register, name="passkey-register"),
    path("own/passkey/<uuid:passkey>/withdraw", own.own_passkey_away, name="own-passkey-away"),
]
WORKSHOP: list[URLPattern | URLResolver] = [
    path("workshop", workshop.workshop, name="workshop"),
    path("workshop/change", workshop.workshop_change, name="workshop-change"),
    path("workshop/people", people.people_page, name="people"),
    path("workshop/people/add", people.add_person_page, name="person-add"),
    path("workshop/people/<uuid:person>", people.person_page, name="person"),
    path("workshop/people/<uuid:person>/<slug:act>", people.person_act, name="person-act"),
    path("workshop/people/<uuid:person>/right/<uuid:right>/<slug:act>", people.right_act, name="right-act"),
    path("workshop/people/<uuid:person>/account/<uuid:account>/<slug:act>", people.account_act, name="account-act"),
    path("workshop/this-tablet", this_tablet.this_tablet, name="this-tablet"),
    path("workshop/tablets", tablets.tablets_page, name="tablets"),
    path("workshop/tablets/enrol", tablets.enrol_page, name="tablet-enrol"),
    path("workshop/tablets/<uuid:tablet>/withdraw", tablets.withdraw_page, name="tablet-withdraw"),
]
AIRCRAFT: list[URLPattern | URLResolver] = [
    path("workshop/aircraft", aircraft.aircraft_list, name="aircraft"),
    path("workshop/part/<uuid:part>", part.part, name="part"),
    path("workshop/aircraft/add", aircraft.aircraft_add, name="aircraft-add"),
    path("workshop/aircraft/import", carrying.aircraft_import, name="aircraft-import"),
    path("workshop/aircraft/<uuid:aircraft>", aircraft.aircraft_page, name="aircraft-page"),
    path("workshop/aircraft/<uuid:aircraft>/export", carrying.aircraft_export, name="aircraft-export"),
    path("workshop/aircraft/<uuid:aircraft>/transcribe", aircraft.paper_add, name="paper-add"),
    path("workshop/aircraft/<uuid:aircraft>/<slug:act>", aircraft.aircraft_act, name="aircraft-act"),
    path("coating", shop_sums.coating, name="coating"),
    path("swing", shop_sums.swing, name="swing"),
    path("workshop/security", security.security, name="security"),
    path("workshop/stands", stands.stands_page, name="stands"),
    path("workshop/stands/<slug:act>", stands.stand_act, name="stand-act"),
]
SCALES: list[URLPattern | URLResolver] = [
    path("workshop/scales", scales.scales_page, name="scales"),
    path("workshop/scales/add", scales.scale_add, name="scale-add"),
    path("workshop/scales/<uuid:scale>/check", scales.scale_check, name="scale-check"),
    path("workshop/scales/<uuid:scale>/certificate", scales.scale_certificate, name="scale-certificate"),
    path("workshop/scales/<uuid:scale>/correct", scales.scale_correct, name="scale-correct"),
    path("workshop/scales/<uuid:scale>/withdraw", scales.scale_withdraw, name="scale-withdraw"),
]
RECORDS: list[URLPattern | URLResolver] = [
    path("records", records_list.records, name="records"),
    path("records/<int:number>", records_list.record, name="record"),
    path("records/<int:number>/again", records_list.record_again, name="record-again"),
    path("records/surface/<uuid:surface>", records_list.surface_page, name="surface-history"),
    path("picture/<uuid:attachment>", aircraft.picture, name="picture"),
    path("ledger", ledger.ledger, name="ledger"),
    path("ledger/verify", ledger.ledger_verify, name="ledger-verify"),
    path("ledger/head", ledger.ledger_head, name="ledger-head"),
    path("ledger/compare", kept_elsewhere.ledger_compare, name="ledger-compare"),
    path("ledger/time", ledger.ledger_time, name="ledger-time"),
    path("onboarding", onboarding.onboarding, name="onboarding"),
    path("onboarding/take-in", onboarding.onboarding_take_in, name="onboarding-take-in"),
    path("backups", backups.backups, name="backups"),
    path("backups/now", backups.backup_now, name="backup-now"),
]
LIMITS: list[URLPattern | URLResolver] = [
    path("limits", limits.limits, name="limits"),
    path("limits/documents/add", limits.document_add, name="limits-document-add"),
    path("limits/documents/<uuid:document>", limits.document_page, name="limits-document"),
    path("limits/documents/<uuid:document>/issue", limits.issue_add, name="limits-issue-add"),
    path("limits/issues/<uuid:issue>/row", limit_row.row_add, name="limits-row-add"),
    path("limits/<uuid:row>", limit_row.row_page, name="limits-row"),
    path("limits/<uuid:row>/read", limit_row.row_read, name="limits-read"),
    path("limits/<uuid:row>/photograph", limit_row.row_photograph, name="limits-photograph"),
    path("limits/<uuid:row>/page/<uuid:photograph>", limit_row.row_picture, name="limits-page"),
]
WHY_BALANCE: list[URLPattern | URLResolver] = [
    path("why-balance", why_balance.why_balance, name="why-balance"),
    path("why-balance/answer", why_balance.answer, name="why-balance-answer"),
    path("why-balance/band", why_balance.banded, name="why-balance-band"),
    path("why-balance/damping", why_balance.damping, name="why-balance-damping"),
    path("why-balance/model.toml", why_balance.model_file, name="why-balance-file"),
    path("why-balance/owner.pdf", why_balance.owners_side, name="why-balance-side"),
    path("why-balance/own", own_model.own_models, name="why-balance-own"),
    path("why-balance/own/<uuid:model>", own_model.own_model, name="why-balance-own-model"),
    path("why-balance/own/<uuid:model>/scatter", study.study_new, name="study-new"),
    path("why-balance/own/<uuid:model>/scatter/<int:draws>/<int:seed>", study.study, name="study"),
    path("why-balance/own/<uuid:model>/scatter/<int:draws>/<int:seed>/far", study.study_far, name="study-far"),
    path("why-balance/own/<uuid:model>/scatter/<int:draws>/<int:seed>.json", study.study_file, name="study-file"),
    path("why-balance/bench", why_balance_bench.bench_rig, name="why-balance-bench"),
    path("why-balance/sheets/<slug:sheet>.pdf", why_balance.short_sheet, name="why-balance-sheet"),
]

TABLET: list[URLPattern | URLResolver] = [
    path("tablet/now", this_tablet.tablet_now, name="tablet-now"),
    path("worker.js", this_tablet.worker, name="worker"),
    path("without-connection", this_tablet.without_connection, name="without-connection"),
]
JOB: list[URLPattern | URLResolver] = [
    path("bench", bench.bench, name="bench"),
    path("job/new", new_job.new_job, name="job-new"),
    path("at", at_scan.at_scan, name="at-scan"),
    path("at/<slug:mark>", new_job.at_label, name="at"),
    path("order/<int:number>", order.order_page, name="order"),
    path("job/<int:number>", job.job_page, name="job"),
    path("job/<int:number>/entry", job.job_entry, name="job-entry"),
    path("job/<int:number>/instead", job_instead.job_instead, name="job-instead"),
    path("job/<int:number>/photograph/<uuid:photograph>", job_pictures.job_picture, name="job-picture"),
    path("job/<int:number>/photograph/<uuid:photograph>/marks", job_photograph.job_photograph, name="job-photograph"),
    path("job/<int:number>/weighing/<int:weighing>.toml", job_file.weighing_file, name="job-weighing-file"),
    path("job/<int:number>/correction/<int:weighing>.toml", job_file.correction_file, name="job-correction-file"),
    path("job/<int:number>/arm.toml", job_file.arm_file, name="job-arm-file"),
    path("job/<int:number>/sign/<slug:what>", job_sign.job_sign, name="job-sign"),
    path("order/<int:number>/close", order.order_close, name="order-close"),
    path("order/<int:number>/second-inspection", job_sign.order_second_inspection, name="order-second-inspection"),
    path("order/<int:number>/release", job_sign.order_release, name="order-release"),
    path("job/<int:number>/<slug:step>", job.job_step, name="job-step"),
]

RECORDINGS: list[URLPattern | URLResolver] = [
    path("recordings", recordings.recordings_page, name="recordings"),
    path("recordings/new", recording_new.recording_new, name="recording-new"),
    path("recordings/sensors", recording_new.recording_sensors, name="recording-sensors"),
    path("recordings/arriving/<slug:key>", arriving.recording_arriving, name="recording-arriving"),
    path("recordings/marks.pdf", recording_tap.marks_sheet, name="recordings-marks-sheet"),
    path("recordings/series/new", series.series_new, name="series-new"),
    path("recordings/series/<int:number>", series.series_page, name="series"),
    path("recordings/series/<int:number>/again", series.series_again, name="series-again"),
    path("recordings/<int:number>", recordings.recording_page, name="recording"),
    path("recordings/<int:number>/judge", recordings.recording_judge, name="recording-judge"),
    path("recordings/<int:number>/again", recordings.recording_again, name="recording-again"),
    path("recordings/<int:number>/first.jpg", recordings.recording_picture, name="recording-picture"),
    path("recordings/<int:number>/replay", recording_replay.recording_replay, name="recording-replay"),
    path("recordings/<int:number>/film.jpg", recording_replay.recording_film, name="recording-film"),
    path("recordings/<int:number>/tap", recording_tap.recording_tap, name="recording-tap"),
    path("recordings/<int:number>/tap.toml", recording_tap.recording_tap_lines, name="recording-tap-lines"),
    path("recordings/<int:number>/marks", recording_marks.recording_marks, name="recording-marks"),
    path("recordings/<int:number>/marks.toml", recordings.recording_marks_file, name="recording-marks-file"),
    path("recordings/<int:number>/far", recording_following.recording_far, name="recording-far"),
    path("recordings/<int:number>/follow", recording_following.recording_follow, name="recording-follow"),
    path("recordings/<int:number>/stop", recording_following.recording_stop, name="recording-stop"),
    path("recordings/<int:number>/keep", recording_following.recording_keep, name="recording-keep"),
]

urlpatterns: list[URLPattern | URLResolver] = [
    *DOORS,
    *OWN,
    *WORKSHOP,
    *SCALES,
    *RECORDS,
    *LIMITS,
    *RECORDINGS,
    *WHY_BALANCE,
    *TABLET,
    *PRINTS,
    *JOB,
    *HANGAR,
    *AIRCRAFT,
]
