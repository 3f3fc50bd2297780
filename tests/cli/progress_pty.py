# progress_pty.py - standard error at a terminal, standard output in a file: what a command writes to each, and what stands on the screen at its end
#
# progress_pty.py COLUMNS OUT ERR PROGRAM ARG...: the environment goes through; ERR.screen gets the screen; ends with the program's status, 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import fcntl, os, re, struct, subprocess, sys, termios
try:
    import pty
    master, slave = pty.openpty()
except (ImportError, OSError):
    sys.exit(77)

columns, out, err = int(sys.argv[1]), sys.argv[2], sys.argv[3]
fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack('HHHH', 24, columns, 0, 0))
program = subprocess.Popen(sys.argv[4:], stdin=subprocess.DEVNULL, stdout=open(out, 'wb'), stderr=slave)
os.close(slave)
said = b''
while True:
    try:
        part = os.read(master, 65536)
    except OSError:   # how Linux says that nobody has the other end open
        break
    if not part:
        break
    said += part
open(err, 'wb').write(said)

screen, line, at = [], '', 0
for part in re.findall('\r|\n|\x1b\\[K|.', said.decode()):
    if part == '\r':
        at = 0
    elif part == '\n':
        screen.append(line)
        line, at = '', 0
    elif part == '\x1b[K':
        line = line[:at]
    else:
        line = line[:at] + part + line[at + 1:]
        at += 1
open(err + '.screen', 'w').write(''.join(one + '\n' for one in screen) + line)
sys.exit(program.wait())
