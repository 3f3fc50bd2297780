# enter_pty.py - a sheet typed in at a terminal, broken off before every question: what was answered is in the journal
#
# enter_pty.py PROGRAM FOLDER MODE [ARG...]: prints what went wrong, nothing when all is well; 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, signal, subprocess, sys
sys.dont_write_bytecode = True   # nothing is left in the tree
from terminal import start, until_prompt

program, folder, mode = sys.argv[1:4]
extra = sys.argv[4:]
path = os.path.join(folder, 'pale-2.xml')
begun = open(path).read()
ANSWERS = [('tap', 'source="tap"'), ('sulphite', 'treatment="sulphite"'), ('66', 'mash temp="66 C"'), ('1.052', 'gravity="1.052 SG"'),
           ('18:45', 'T18:45"'), ('19', 'temp="19 C"'), ('20', 'wort="20 C"')]

for n in range(1, len(ANSWERS) + 1):
    open(path, 'w').write(begun)
    pid, fd = start([program, 'enter', '2'] + extra, folder)
    for answer, _ in ANSWERS[:n]:
        if not until_prompt(fd)[1]:
            print('it ended before %r' % answer)
        os.write(fd, answer.encode() + b'\n')
    text, waits = until_prompt(fd)
    if not waits:
        print('no question after %d answers: %r' % (n, text))
    if mode == 'kill':
        os.kill(pid, signal.SIGKILL)
    else:
        os.write(fd, b'\x03' if mode == 'interrupt' else b'\x04')
        text, _ = until_prompt(fd)
    _, status = os.waitpid(pid, 0)
    if mode == 'interrupt' and not (os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGINT):
        print('an interrupt ends it with status %d' % status)
    if mode == 'eof' and not (os.WIFEXITED(status) and os.WEXITSTATUS(status) == 0):
        print('an end of input gives status %d' % status)
    if mode != 'kill' and b'%d answer' % n not in text:
        print('after %d answers it says %r' % (n, text))
    os.close(fd)
    journal = open(path).read()
    for answer, wanted in ANSWERS[:n]:
        if wanted not in journal:
            print('broken off after %d answers, %r is lost' % (n, answer))
    check = subprocess.run([program, 'check', path] + extra, capture_output=True, text=True)
    if check.returncode not in (0, 1):
        print('after %d answers the journal does not read: %s' % (n, check.stderr))
    back = subprocess.run([program, 'log', '2', '--undo', '--in', folder] + extra, capture_output=True, text=True, stdin=subprocess.DEVNULL)
    if open(path).read() != begun:
        print('after %d answers it is not taken back as one: %s' % (n, back.stderr))
    left = [f for f in os.listdir(folder) if 'saving' in f]
    if left:
        print('left behind: %s' % left)
