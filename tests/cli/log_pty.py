# log_pty.py - a command at a terminal, whose questions are answered: what it printed
#
# log_pty.py "ANSWER|ANSWER" PROGRAM [ARG...]: prints all that was shown; status that of the program; 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, re, select, sys, time
try:
    import pty
except ImportError:
    sys.exit(77)

answers = [a for a in sys.argv[1].split('|') if a != ''] if sys.argv[1] != '|' else ['']
try:
    pid, fd = pty.fork()
except OSError:
    sys.exit(77)
if pid == 0:
    os.execv(sys.argv[2], sys.argv[2:])
shown, since, end = b'', b'', time.time() + 30
while time.time() < end:
    if not select.select([fd], [], [], 0.2)[0]:
        continue
    try:
        part = os.read(fd, 65536)
    except OSError:
        part = b''
    if not part:
        break
    shown, since = shown + part, since + part
    if re.search(rb'(^|\n)> $', since):
        os.write(fd, (answers.pop(0) if answers else '').encode() + b'\n')
        since = b''
sys.stdout.write(shown.decode('utf-8', 'replace').replace('\r', ''))
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
