"""The language that an aircraft's owner reads."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0014_landings_of_parts"),
    ]

    operations = [
        migrations.AddField(
            model_name="aircraft",
            name="owner_language",
            field=models.CharField(blank=True, default="", max_length=5),
            preserve_default=False,
        ),
    ]
