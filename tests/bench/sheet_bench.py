"""The same forty formulas of the shipped rules here, in numpy, and in a spreadsheet that is calculated again without a
screen: time a row of each, and whether all give the same. Argument: the program sheet_bench. What is not installed is
left out, with a sentence."""
import csv
import math
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

ROUNDS = 5
NEAR = 1e-9

MODULE = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE script:module PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "module.dtd">
<script:module xmlns:script="http://openoffice.org/2000/script" script:name="Bench" script:language="StarBasic">
Sub Main
  Dim hidden(0) As New com.sun.star.beans.PropertyValue
  hidden(0).Name = "Hidden"
  hidden(0).Value = True
  doc = StarDesktop.loadComponentFromURL("file://FOLDER/sheet.fods", "_blank", 0, hidden())
  least = 1e9
  For i = 1 To ROUNDS
    start = GetSystemTicks()
    doc.calculateAll()
    taken = GetSystemTicks() - start
    If taken &lt; least Then least = taken
  Next
  Dim form(1) As New com.sun.star.beans.PropertyValue
  form(0).Name = "FilterName"
  form(0).Value = "Text - txt - csv (StarCalc)"
  form(1).Name = "FilterOptions"
  form(1).Value = "44,34,76,1,,0,false,false,false"
  doc.storeToURL("file://FOLDER/calc.csv", form())
  file = FreeFile()
  Open "FOLDER/calc_ms" For Output As #file
  Print #file, least
  Close #file
  doc.close(True)
  StarDesktop.terminate()
End Sub
</script:module>
"""
LIBRARY = """<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE library:{0} PUBLIC "-//OpenOffice.org//DTD OfficeDocument 1.0//EN" "library.dtd">
<library:{0} xmlns:library="http://openoffice.org/2000/library" {1}
</library:{0}>
"""
XLINK = 'xmlns:xlink="http://www.w3.org/1999/xlink">'


def read(path):
    with open(path, newline="") as file:
        return [[float(cell) if cell and cell[0] not in "#E" else math.nan for cell in row] for row in csv.reader(file)]


def furthest(a, b):
    """The largest relative difference of two tables, and how many cells have a value in one of them alone."""
    worst, alone = 0.0, 0
    for left, right in zip(a, b, strict=True):
        for x, y in zip(left, right, strict=True):
            if math.isfinite(x) != math.isfinite(y):
                alone += 1
            elif math.isfinite(x) and x != y:
                worst = max(worst, abs(x - y) / max(abs(x), abs(y)))
    return worst, alone


def run_numpy(folder):
    import numpy as np
    scope = {}
    exec((folder / "formulas.py").read_text(), scope)
    inputs = [np.array(column) for column in zip(*read(folder / "inputs.csv"))]
    least = math.inf
    for _ in range(5 * ROUNDS):
        columns = list(inputs)
        start = time.perf_counter()
        with np.errstate(all="ignore"):
            scope["run"](columns)
        least = min(least, time.perf_counter() - start)
    rows = len(inputs[0])
    results = [np.broadcast_to(column, rows) for column in columns[len(inputs):]]
    return 1e9 * least / rows, list(zip(*results))


def soffice(folder, *what):
    subprocess.run(["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless", "--norestore", *what],
                   check=True, timeout=600, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def run_calc(folder, inputs):
    soffice(folder, "--terminate_after_init")  # makes its profile, which would take the place of the macro
    basic = folder / "profile" / "user" / "basic" / "Standard"
    basic.mkdir(parents=True, exist_ok=True)
    (basic / "Bench.xba").write_text(MODULE.replace("FOLDER", str(folder)).replace("ROUNDS", str(ROUNDS)))
    (basic / "script.xlb").write_text(LIBRARY.format("library", 'library:name="Standard" library:readonly="false" library:passwordprotected="false">\n <library:element library:name="Bench"/>'))
    (basic / "dialog.xlb").write_text(LIBRARY.format("library", 'library:name="Standard" library:readonly="false" library:passwordprotected="false">'))
    (basic.parent / "script.xlc").write_text(LIBRARY.format("libraries", XLINK + '\n <library:library library:name="Standard" xlink:href="$(USER)/basic/Standard/script.xlb/" xlink:type="simple" library:link="false"/>'))
    (basic.parent / "dialog.xlc").write_text(LIBRARY.format("libraries", XLINK + '\n <library:library library:name="Standard" xlink:href="$(USER)/basic/Standard/dialog.xlb/" xlink:type="simple" library:link="false"/>'))
    soffice(folder, "macro:///Standard.Bench.Main")
    rows = read(folder / "calc.csv")
    return 1e6 * float((folder / "calc_ms").read_text()) / len(rows), [row[inputs:] for row in rows]


def main():
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        what, ours = subprocess.run([sys.argv[1], place], check=True, capture_output=True, text=True).stdout.splitlines()
        ours, expected = float(ours), read(folder / "results.csv")
        print(f"{what}; least time of several rounds")
        print(f"  here, one thread      {ours:10.1f} ns a row")
        bad = False
        for name, missing, runner in (("numpy", "numpy is not installed for this python3", lambda: run_numpy(folder)),
                                      ("LibreOffice Calc", "soffice is not installed", lambda: run_calc(folder, len(read(folder / "inputs.csv")[0])))):
            try:
                if name != "numpy" and not shutil.which("soffice"):
                    raise ImportError
                taken, values = runner()
            except ImportError:
                print(f"  {name}: left out, {missing}")
                continue
            worst, alone = furthest(expected, values)
            bad = bad or worst > NEAR or alone > 0
            print(f"  {name:<20}  {taken:10.1f} ns a row   {taken / ours:8.1f} times ours; largest difference {worst:.1e}" + (f", {alone} CELLS HAVE A VALUE IN ONE ALONE" if alone else ""))
        return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
