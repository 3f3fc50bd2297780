# log_pty.py - a command at a terminal, whose questions are answered: what it printed
#
# log_pty.py "ANSWER|ANSWER" PROGRAM [ARG...]: prints all that was shown; status that of the program; 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, sys
import terminal

answers = [a for a in sys.argv[1].split('|') if a != ''] if sys.argv[1] != '|' else ['']
pid, fd = terminal.start(sys.argv[2:])
shown, asks = b'', True
while asks:
    new, asks = terminal.until_prompt(fd, 30)
    shown += new
    if asks:
        os.write(fd, (answers.pop(0) if answers else '').encode() + b'\n')
sys.stdout.write(shown.decode('utf-8', 'replace').replace('\r', ''))
sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
