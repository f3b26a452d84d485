"""Which address is which page of the hangar."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path

from hingeline_app.web.pages.hangar import hangar, hangar_calendar, hangar_hours, hangar_tasks

HANGAR: list[URLPattern | URLResolver] = [
    path("fleet", hangar.hangar, name="fleet"),
    path("fleet/due.toml", hangar.due_file, name="fleet-due-file"),
    path("fleet/take-in", hangar_tasks.due_take_in, name="fleet-take-in"),
    path("fleet/hours", hangar_hours.hours_of_all, name="fleet-hours"),
    path("fleet/hours/<uuid:aircraft>", hangar_hours.hours_of_one, name="fleet-hours-of"),
    path("fleet/hours/<uuid:aircraft>/line", hangar_hours.hours_line, name="fleet-hours-line"),
    path("fleet/hours/<uuid:aircraft>/meter", hangar_hours.meter, name="fleet-meter"),
    path("fleet/hours/<uuid:aircraft>/<uuid:reading>/withdraw", hangar_hours.reading_withdraw, name="reading-withdraw"),
    path("fleet/calendar", hangar_calendar.calendar, name="fleet-calendar"),
    path("fleet/calendar.ics", hangar_calendar.calendar_file, name="fleet-calendar-file"),
    path("fleet/calendar/make", hangar_calendar.feed_make, name="fleet-feed-make"),
    path("fleet/calendar/end", hangar_calendar.feed_end, name="fleet-feed-end"),
    path("fleet/calendar/<str:token>.ics", hangar_calendar.feed, name="fleet-feed"),
    path("fleet/task/add", hangar_tasks.task_add, name="task-add"),
    path("fleet/task/<uuid:task>/change", hangar_tasks.task_change, name="task-change"),
    path("fleet/task/<uuid:task>/sign-off", hangar_tasks.task_sign_off, name="task-sign-off"),
    path("fleet/task/<uuid:task>/put-off", hangar_tasks.task_put_off, name="task-put-off"),
    path("fleet/task/<uuid:task>/end", hangar_tasks.task_end, name="task-end"),
    path("fleet/task/<uuid:task>/withdraw", hangar_tasks.task_withdraw, name="task-withdraw"),
    path("fleet/task/<uuid:task>/history", hangar.task_history, name="task-history"),
    path("fleet/task/<uuid:task>/done/<uuid:row>/withdraw", hangar_tasks.sign_off_withdraw, name="sign-off-withdraw"),
    path("fleet/task/<uuid:task>/waits/<uuid:row>/withdraw", hangar_tasks.put_off_withdraw, name="put-off-withdraw"),
]
