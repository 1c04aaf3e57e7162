"""A spreadsheet program that opens a workbook, types into cells as a person does, and saves it."""

import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from xml.sax.saxutils import escape

OFFICE = shutil.which("soffice")

_LIBRARY = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:library PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:library xmlns:library="http://openoffice.org/2000/library" library:name="Standard"
 library:readonly="false" library:passwordprotected="false">
 <library:element library:name="Typing"/>
</library:library>
"""
_LIBRARIES = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:libraries PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "libraries.dtd">
<library:libraries xmlns:library="http://openoffice.org/2000/library"
 xmlns:xlink="http://www.w3.org/1999/xlink">
 <library:library library:name="Standard"
  xlink:href="$(USER)/basic/Standard/script.xlb/" xlink:type="simple" library:link="false"/>
</library:libraries>
"""
_MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Typing"
 script:language="StarBasic">{code}</script:module>
"""


def typed_and_saved(workbook: Path, typed: Mapping[tuple[str, str], str], scratch: Path) -> Path:
    """The workbook saved as another .xlsx after these texts were typed into (sheet, cell)."""
    saved = scratch / "saved.xlsx"
    lines = [
        f'  doc.Sheets.getByName("{sheet}").getCellRangeByName("{cell}").FormulaLocal = "{text}"'
        for (sheet, cell), text in typed.items()
    ]
    code = "\n".join(
        [
            "Sub Main",
            "  Dim hidden(0) As New com.sun.star.beans.PropertyValue",
            '  hidden(0).Name = "Hidden" : hidden(0).Value = True',
            f'  doc = StarDesktop.loadComponentFromURL("{workbook.as_uri()}", _',
            '    "_blank", 0, hidden())',
            *lines,
            "  Dim kind(0) As New com.sun.star.beans.PropertyValue",
            '  kind(0).Name = "FilterName" : kind(0).Value = "Calc MS Excel 2007 XML"',
            f'  doc.storeToURL("{saved.as_uri()}", kind())',
            "  doc.close(True)",
            "End Sub",
        ]
    )
    profile = scratch / "profile"
    office = [str(OFFICE), "--headless", f"-env:UserInstallation={profile.as_uri()}"]
    # The first start lays out the profile, and would take away a macro that is there already.
    _run([*office, "--terminate_after_init"])
    library = profile / "user" / "basic" / "Standard"
    library.mkdir(parents=True, exist_ok=True)
    (library.parent / "script.xlc").write_text(_LIBRARIES)
    (library / "script.xlb").write_text(_LIBRARY)
    (library / "Typing.xba").write_text(_MODULE.format(code=escape(code)))
    _run([*office, "macro:///Standard.Typing.Main"])
    return saved


def _run(command: list[str]) -> None:
    subprocess.run(command, capture_output=True, timeout=180, check=True)
