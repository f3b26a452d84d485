"""Whoever's act changed a job: of a tick or a choice no row of its own says who made it."""

from django.db import migrations

from hingeline_app.records.models.plain import PlainField


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0016_owners_language"),
    ]

    operations = [
        migrations.AddField(
            model_name="job",
            name="worked_on_by",
            field=PlainField(blank=True, default=list),
        ),
    ]
