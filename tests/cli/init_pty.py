# init_pty.py - the first questions typed in at a terminal, broken off before every one: a whole profile or none
#
# init_pty.py PROGRAM FOLDER MODE [ARG...]: prints what went wrong, nothing when all is well; 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, re, select, shutil, signal, subprocess, sys, time
try:
    import pty
except ImportError:
    sys.exit(77)

program, folder, mode = sys.argv[1:4]
extra = sys.argv[4:]
path = os.path.join(folder, 'profile.xml')
ANSWERS = [('metric', 'units="metric"'), ('20', 'volume="20 L"'), ('12', 'batches="12"'), ('wheat', 'family="wheat"'), ('bottles', 'into="bottles"'),
           ('bucket', 'kind="bucket"'), ('none', 'control="none"'), ('21', 'room="21 C"'), ('tap', 'source="tap"'), ('sulphite', 'treatment="sulphite"'),
           ('EUR', 'currency="EUR"'), ('60', 'now="60"'), ('30', 'per-year="30"'), ('20', 'per-batch="20 min"'), ('10', 'away="10 h"'),
           ('sat, not every other sat from 2031-03-08', 'free="sat, not every other sat from 2031-03-08"'), ('6', 'time="6 h"'), ('20:30', 'begins="20:30"'),
           ('25', 'other="25 min"'), ('19', 'other-begins="19"')]


def start():
    try:
        pid, fd = pty.fork()
    except OSError:
        sys.exit(77)
    if pid == 0:
        for one in (signal.SIGINT, signal.SIGHUP, signal.SIGTERM):
            signal.signal(one, signal.SIG_DFL)   # make may have had them ignored
        os.execv(program, [program, 'init', folder] + extra)
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


for n in range(len(ANSWERS) + 1):
    shutil.rmtree(folder, ignore_errors=True)
    pid, fd = start()
    for answer, _ in ANSWERS[:n]:
        if not until_prompt(fd)[1]:
            print('it ended before %r' % answer)
        os.write(fd, answer.encode() + b'\n')
    text, waits = until_prompt(fd)
    if waits != (n < len(ANSWERS)):
        print('after %d answers: %r' % (n, text))
    if waits and mode == 'kill':
        os.kill(pid, signal.SIGKILL)
    elif waits:
        os.write(fd, b'\x03' if mode == 'interrupt' else b'\x04')
        until_prompt(fd)
    _, status = os.waitpid(pid, 0)
    os.close(fd)
    if waits and mode == 'interrupt' and not (os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGINT):
        print('an interrupt ends it with status %d' % status)
    if (not waits or mode == 'eof') and not (os.WIFEXITED(status) and os.WEXITSTATUS(status) == 0):
        print('after %d answers it ends with status %d' % (n, status))
    if waits and mode != 'eof':
        if os.path.exists(path):
            print('broken off after %d answers, a profile is there' % n)
    else:
        profile = open(path).read()
        for answer, wanted in ANSWERS[:n]:
            if wanted not in profile:
                print('after %d answers, %r is lost' % (n, answer))
        if subprocess.run([program, 'check', '--profile', path] + extra, capture_output=True).returncode != 0:
            print('after %d answers the profile does not read' % n)
    if os.path.isdir(folder) and [f for f in os.listdir(folder) if f != 'profile.xml']:
        print('left behind: %s' % os.listdir(folder))
