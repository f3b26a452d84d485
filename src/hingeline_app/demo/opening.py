"""From an empty folder to the invented workshop in it, ready to be served on this machine alone."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, datetime

from hingeline.errors import InputRefused
from hingeline_app.serving.options import ServeOptions
from hingeline_app.serving.start import serve
from hingeline_app.serving.surroundings import set_up_django
from hingeline_app.settings import places

Say = Callable[[str], None]


def open_the_demo(options: ServeOptions, say: Say) -> int:
    """Fill a folder with the invented workshop, say who can sign in, and serve it until stopped.

    Raises
    ------
    InputRefused
        The folder is not empty.
    """
    _refuse_a_workshop(options)
    set_up_django(options, ("localhost", "127.0.0.1"))
    os.environ[places.DEMO_TABLET] = _filled(say)
    _say_who(options, say)
    return serve(options, say)


def _refuse_a_workshop(options: ServeOptions) -> None:
    folder = options.data
    if folder.exists() and any(folder.iterdir()):
        remedy = (
            "Name an empty folder, or leave --data out: then it is thrown away at the end."
            f" To go on with one that the demo filled: hingeline serve --loopback --data {folder}"
        )
        raise InputRefused.of("--data", str(folder), "an empty folder", remedy)


def _filled(say: Say) -> str:
    from hingeline_app.demo.story import tell
    from hingeline_app.records.updating import bring_up_to_date
    from hingeline_app.web.demo_tablet import let_the_pages_know

    # Before anything is filled in: a demonstration that was broken off is marked as well.
    (places.data_folder() / places.INVENTED).touch(mode=0o600)
    bring_up_to_date(datetime.now(UTC))
    token = tell(say).tablet_token
    let_the_pages_know(token)
    return token


def _say_who(options: ServeOptions, say: Say) -> None:
    from hingeline_app.demo.cast import CAST, PASSWORD

    say("People of the invented workshop, with their PINs:")
    for each in CAST:
        say(f"    {each.pin}   {each.name}: {', '.join(each.roles)}")
    say(f'To sign or to administrate, each has the password "{PASSWORD}" (sign-in name: the first name, small).')
    say(
        f"Open this first, so that this browser counts as the bench's tablet: http://localhost:{options.listening_port}/demo"
    )
