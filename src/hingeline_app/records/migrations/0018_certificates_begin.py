"""From which day a scale's certificate counts, and those that it had before: a weighing rests on the one of its day."""

from django.db import migrations, models

from hingeline_app.records.models.plain import PlainField


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0017_who_worked_on_a_job"),
    ]

    operations = [
        migrations.AddField(
            model_name="scale",
            name="certificate_begins",
            field=models.DateField(blank=True, null=True),
        ),
        migrations.AddField(
            model_name="scale",
            name="certificates_before",
            field=PlainField(blank=True, default=list),
        ),
    ]
