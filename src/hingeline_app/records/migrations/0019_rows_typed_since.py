"""Whether a reading was typed since a word for the sense beside a number is refused: those of before may be turned."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0018_certificates_begin"),
    ]

    operations = [
        migrations.AddField(
            model_name="rowreading",
            name="numbers_are_bare",
            field=models.BooleanField(default=False),
        ),
    ]
