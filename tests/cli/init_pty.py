# init_pty.py - the first questions typed in at a terminal, broken off before every one: a whole profile or none
#
# init_pty.py PROGRAM FOLDER MODE [ARG...]: prints what went wrong, nothing when all is well; 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, shutil, signal, subprocess, sys
sys.dont_write_bytecode = True   # nothing is left in the tree
from terminal import start, until_prompt

program, folder, mode = sys.argv[1:4]
extra = sys.argv[4:]
path = os.path.join(folder, 'profile.xml')
# What comes first at a terminal, then whether that is enough for now, then the rest.
ANSWERS = [('metric', 'units="metric"'), ('20', 'volume="20 L"'), ('wheat', 'family="wheat"'), ('bottles', 'into="bottles"'),
           ('bucket', 'kind="bucket"'), ('none', 'control="none"'), ('yes', ''), ('12', 'batches="12"'), ('21', 'room="21 C"'), ('tap', 'source="tap"'), ('sulphite', 'treatment="sulphite"'),
           ('EUR', 'currency="EUR"'), ('60', 'now="60"'), ('30', 'per-year="30"'), ('20', 'per-batch="20 min"'), ('10', 'away="10 h"'),
           ('sat, not every other sat from 2031-03-08', 'free="sat, not every other sat from 2031-03-08"'), ('6', 'time="6 h"'), ('20:30', 'begins="20:30"'),
           ('25', 'other="25 min"'), ('19', 'other-begins="19"')]

# Six answers and Enter: a whole profile, with what was left for later as lines that only have to be taken out of their comment.
if mode == 'eof':
    shutil.rmtree(folder, ignore_errors=True)
    pid, fd = start([program, 'init', folder] + extra)
    said = ''
    for answer, _ in ANSWERS[:6] + [('', '')]:
        text, _ = until_prompt(fd)
        said += text.decode(errors='replace') if isinstance(text, bytes) else text
        os.write(fd, answer.encode() + b'\n')
    text, waits = until_prompt(fd)
    said += text.decode(errors='replace') if isinstance(text, bytes) else text
    os.waitpid(pid, 0)
    os.close(fd)
    profile = open(path).read()
    if waits or 'left for later' not in ' '.join(said.split()):
        print('six answers and Enter: %r' % said)
    told, later = profile.split('<!--')
    for line in later.splitlines():
        if line.startswith('  <') and 'inside of' not in line:
            told = told.replace('</brewery>', line.strip()[:line.strip().index('>') + 1] + '\n</brewery>', 1)
    open(path, 'w').write(told)
    check = subprocess.run([program, 'check', '--profile', path] + extra, capture_output=True, text=True)
    if later.count('\n  ') != 8 or check.returncode != 0:
        print('what was left for later does not read: %s%s' % (told, check.stderr))

for n in range(len(ANSWERS) + 1):
    shutil.rmtree(folder, ignore_errors=True)
    pid, fd = start([program, 'init', folder] + extra)
    for answer, _ in ANSWERS[:n]:
        if not until_prompt(fd)[1]:
            print('it ended before %r' % answer)
        os.write(fd, answer.encode() + b'\n')
    text, waits = until_prompt(fd)
    for line in text.decode(errors='replace').splitlines() if isinstance(text, bytes) else text.splitlines():
        if len(line) > 80:
            print('wider than the terminal: %r' % line)
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
