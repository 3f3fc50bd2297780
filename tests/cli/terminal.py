# terminal.py - a program at a terminal of its own: started, and read until it asks
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, re, select, signal, sys, time
try:
    import pty
except ImportError:
    sys.exit(77)


# The program in a child, in that folder where one is named; 77 without a terminal.
def start(command, folder=None):
    try:
        pid, fd = pty.fork()
    except OSError:
        sys.exit(77)
    if pid == 0:
        if folder is not None:
            os.chdir(folder)
        for one in (signal.SIGINT, signal.SIGHUP, signal.SIGTERM):
            signal.signal(one, signal.SIG_DFL)   # make may have had them ignored
        os.execv(command[0], command)
    return pid, fd


# Reads until a prompt stands at the end, or the program is gone.
def until_prompt(fd, seconds=20):
    new, end = b'', time.time() + seconds
    while time.time() < end:
        if not select.select([fd], [], [], 0.2)[0]:
            continue
        try:
            part = os.read(fd, 65536)
        except OSError:
            part = b''
        if not part:
            return new, False
        new += part
        if re.search(rb'(^|\n)> $', new):
            return new, True
    print('no prompt and no end: %r' % new[-200:])
    sys.exit(1)
