"""Times a whole recalculation of workbooks inside a running LibreOffice; run by a Python that has uno.

    python3 calc_driver.py PROFILE TIMES WORKBOOK …

Prints one line of JSON a workbook: the least seconds of a recalculation by the clock, their mean in processor
time of LibreOffice, which other programs on the machine do not lengthen, and what the cell D3 shows.
"""

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import uno
from com.sun.star.beans import PropertyValue


def start(profile):
    """LibreOffice with this profile, and its desktop."""
    pipe = f"pipe,name=rigxl{os.getpid()};urp;"
    command = ["soffice", "-env:UserInstallation=" + profile, "--headless", "--norestore"]
    process = subprocess.Popen([*command, "--accept=" + pipe], stderr=subprocess.DEVNULL)
    here = uno.getComponentContext()
    resolver = here.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", here)
    for _ in range(300):
        try:
            there = resolver.resolve(f"uno:{pipe}StarOffice.ComponentContext")
            desktop = there.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", there)
            return process, desktop
        except Exception:
            time.sleep(0.1)
    raise SystemExit("LibreOffice did not start")


def processor_seconds(profile):
    """A function that tells the processor time of the LibreOffice with this profile, as Linux counts it."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            command = (process / "cmdline").read_bytes().decode()
        except OSError:
            continue
        if "soffice.bin" in command and profile in command:
            counted = process / "stat"
            break

    def told():
        fields = counted.read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    return told


def main(profile, times, *paths):
    """Each workbook, one after the other."""
    process, desktop = start(profile)
    processor = processor_seconds(profile)
    hidden = PropertyValue()
    hidden.Name, hidden.Value = "Hidden", True
    for path in paths:
        book = desktop.loadComponentFromURL(uno.systemPathToFileUrl(path), "_blank", 0, (hidden,))
        book.calculateAll()
        spent, used = [], processor()
        for _ in range(int(times)):
            begun = time.perf_counter()
            book.calculateAll()
            spent.append(time.perf_counter() - begun)
        shows = book.Sheets[0].getCellRangeByName("D3").String
        told = {"clock": min(spent), "processor": (processor() - used) / int(times), "shows": shows}
        print(json.dumps(told), flush=True)
        book.close(True)
    try:
        desktop.terminate()
    except Exception as gone:  # it hangs up on us as it ends
        print(gone, file=sys.stderr)
    process.wait(60)
    os._exit(0)  # the bridge may crash as Python takes it down


if __name__ == "__main__":
    main(*sys.argv[1:])
