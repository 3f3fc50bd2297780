# interview_pty.py - an interview at a terminal: killed, interrupted, hung up and continued at every question
#
# interview_pty.py PROGRAM FOLDER MODE [ARG...]: prints what went wrong, nothing when all is well; 77 without a terminal.
#
# SPDX-License-Identifier: GPL-3.0-or-later
import os, re, select, signal, subprocess, sys, termios, time
try:
    import pty
except ImportError:
    sys.exit(77)

program, folder, mode = sys.argv[1:4]
extra = sys.argv[4:]
ANSWERS = ['buttery 4', '', 'pale and hoppy', 'clean ale', 'in bottles', '8 weeks ago', '5 weeks ago', '', '12 C', '', '', '', '', '', '', '']


class Sitting:
    def __init__(self, args, env=None, columns=80):
        try:
            self.pid, self.fd = pty.fork()
        except OSError:
            sys.exit(77)
        if self.pid == 0:
            os.chdir(folder)
            for one in (signal.SIGINT, signal.SIGHUP, signal.SIGTERM):
                signal.signal(one, signal.SIG_DFL)   # make may have had them ignored
            if env:
                os.environ.update(env)
            os.execv(program, [program, 'interview', '--date', '2031-03-07'] + args + extra)
        import fcntl, struct
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack('HHHH', 40, columns, 0, 0))
        self.said = b''

    # Reads until a prompt stands at the end, or the program is gone. What was read since the last prompt.
    def until_prompt(self, seconds=20):
        new = b''
        end = time.time() + seconds
        while time.time() < end:
            ready, _, _ = select.select([self.fd], [], [], 0.2)
            if not ready:
                continue
            try:
                part = os.read(self.fd, 65536)
            except OSError:
                part = b''
            if not part:
                self.said += new
                return new, False
            new += part
            if re.search(rb'(^|\n)> $', new):
                self.said += new
                return new, True
        print('no prompt and no end after %d seconds: %r' % (seconds, new[-200:]))
        self.end()
        sys.exit(1)

    def type(self, text):
        os.write(self.fd, text.encode() + b'\n')

    def end(self, how=signal.SIGKILL):
        try:
            os.kill(self.pid, how)
        except ProcessLookupError:
            pass
        return self.wait()

    def wait(self):
        _, status = os.waitpid(self.pid, 0)
        try:
            os.close(self.fd)
        except OSError:
            pass
        return status


def is_valid(path):
    check = subprocess.run([program, 'check', path] + extra, capture_output=True, text=True)
    return check.returncode in (0, 1)


def question(text):
    lines = [line.strip() for line in text.decode(errors='replace').replace('\r', '').split('\n')]
    lines = [re.sub(r'\x1b\[[0-9;]*m', '', line) for line in lines]
    asked = [line for line in lines if line.endswith('?')]
    return re.sub(r'^\d+ of \d+ +', '', asked[-1]) if asked else ''


# The whole, with the question before each answer and the journal after it.
def whole(path):
    s = Sitting(['-o', path])
    steps = []
    for answer in ANSWERS:
        text, open_ = s.until_prompt()
        if not open_:
            break
        journal = open(path).read() if os.path.exists(path) else None
        steps.append((question(text), journal))
        s.type(answer)
    else:
        s.until_prompt()
    s.end()
    return steps


# Ended by `how` while it waits for answer n: the journal is whole, is what it was then, and goes on with the same question.
def broken_off(how):
    path = os.path.join(folder, 'whole.xml')
    steps = whole(path)
    if len(steps) < 8:
        print('only %d questions' % len(steps))
    for n in range(1, len(steps)):
        path = os.path.join(folder, 'whole.xml')
        os.path.exists(path) and os.remove(path)
        s = Sitting(['-o', path])
        for answer in ANSWERS[:n]:
            s.until_prompt()
            s.type(answer)
        text, open_ = s.until_prompt()
        status = how(s)
        if not open_ or question(text) != steps[n][0]:
            print('before question %d: %r, not %r' % (n, question(text), steps[n][0]))
        if not os.path.exists(path) or open(path).read() != steps[n][1]:
            print('before question %d the journal is another' % n)
            continue
        if not is_valid(path):
            print('before question %d the journal is not valid' % n)
        if [f for f in os.listdir(folder) if f.endswith('.tmp') or (f.startswith('.') and f != '.afterboil-undo')]:
            print('question %d left %s' % (n, os.listdir(folder)))
        # strength and "anything else" belong to the sitting; the rest goes on
        again = Sitting([path])
        text, open_ = again.until_prompt()
        again.end()
        if n > 1 and open_ and question(text) != steps[n][0]:
            print('continued before question %d: %r, not %r' % (n, question(text), steps[n][0]))
        # the whole of it is taken back as one: with the journal that was begun
        back = subprocess.run([program, 'log', 'whole', '--undo', '--in', folder] + extra, capture_output=True, text=True, stdin=subprocess.DEVNULL)
        if os.path.exists(path):
            print('before question %d it is not taken back: %s' % (n, back.stderr))


def by_hangup(s):
    os.close(s.fd)
    s.fd = os.open('/dev/null', os.O_RDONLY)
    return s.wait()


def by_interrupt(s):
    os.write(s.fd, b'\x03')
    text, open_ = s.until_prompt()
    status = s.wait()
    if not os.WIFSIGNALED(status) or os.WTERMSIG(status) != signal.SIGINT:
        print('an interrupt ends it with status %d' % status)
    if b'Your answers are in' not in text:
        print('an interrupt does not say where the answers are: %r' % text)
    return status


def by_eof(s):
    os.write(s.fd, b'\x04')
    text, open_ = s.until_prompt()
    status = s.wait()
    if not os.WIFEXITED(status) or os.WEXITSTATUS(status) > 1:
        print('an end of input gives status %d' % status)
    if b'Your answers are in' not in text:
        print('an end of input does not say where the answers are')
    return status


# Killed while it works: right after an answer was typed, after ever longer moments.
def killed_at_work():
    path = os.path.join(folder, 'work.xml')
    for i in range(25):
        os.path.exists(path) and os.remove(path)
        s = Sitting(['-o', path])
        for answer in ANSWERS[:6]:
            s.until_prompt()
            s.type(answer)
        time.sleep(i * 0.001)
        s.end()
        if not os.path.exists(path) or not is_valid(path):
            print('killed after %d: the journal is not valid' % i)
        elif 'into="bottles"' not in open(path).read():
            print('killed after %d: an answer is lost' % i)
        for f in os.listdir(folder):
            if f != 'work.xml' and f.startswith('work'):
                os.remove(os.path.join(folder, f))   # a temporary file of the one that was killed: never half a journal


def looks():
    coloured = Sitting(['-o', 'c.xml'], {'TERM': 'xterm'})
    text, _ = coloured.until_prompt()
    coloured.end()
    if b'\x1b[' not in text:
        print('no colour at a terminal')
    for env in ({'TERM': 'xterm', 'NO_COLOR': '1'}, {'TERM': 'dumb'}):
        plain = Sitting(['-o', 'p.xml'], env)
        text, _ = plain.until_prompt()
        plain.end()
        if b'\x1b' in text:
            print('colour with %r' % env)
    narrow = Sitting(['-o', 'n.xml', '--width', '40'], {'TERM': 'dumb'})
    for answer in ANSWERS[:4]:
        narrow.until_prompt()
        narrow.type(answer)
    narrow.until_prompt()
    narrow.end()
    for line in narrow.said.decode().replace('\r', '').split('\n'):
        if len(line) > 40:
            print('too wide: %r' % line)


# -o names a file that is there: asked, not overwritten.
def overwriting():
    path = os.path.join(folder, 'there.xml')
    for said, kept in (('no', True), ('', True), ('yes', False)):
        open(path, 'w').write('mine')
        s = Sitting(['-o', path])
        text, _ = s.until_prompt()
        if b'Overwrite it?' not in text:
            print('it does not ask: %r' % text)
        s.type(said)
        if not kept:
            s.until_prompt()
            s.type('buttery 4')
            s.until_prompt()
            s.end()
        else:
            s.until_prompt()
            s.wait()
        if (open(path).read() == 'mine') != kept:
            print('after "%s" the file is %s' % (said, 'lost' if kept else 'kept'))


MODES = {
    'kill': lambda: broken_off(lambda s: s.end()),
    'hangup': lambda: broken_off(by_hangup),
    'interrupt': lambda: broken_off(by_interrupt),
    'eof': lambda: broken_off(by_eof),
    'work': killed_at_work,
    'looks': looks,
    'overwrite': overwriting,
}
MODES[mode]()
