# values.py - dates by datetime, numbers by Decimal, sensor logs by csv: what the program reads, read a second time
#
# usage: values.py READ_VALUES FOLDER dates|intervals|days|numbers|malformed|logs; a line for each difference
# SPDX-License-Identifier: GPL-3.0-or-later
import csv
import datetime
import io
import math
import random
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction

reader, folder, what = sys.argv[1:4]
dice = random.Random(20310301)
EPOCH = datetime.datetime(1970, 1, 1)


def ask(questions):
    """Answers, one a question."""
    done = subprocess.run([reader], input='\n'.join('\t'.join(q) for q in questions) + '\n', text=True, capture_output=True, check=True)
    answers = done.stdout.splitlines()
    if len(answers) != len(questions):
        print(f'{len(questions)} questions, {len(answers)} answers')
    return answers


def seconds(moment):
    return int((moment - EPOCH).total_seconds())


# ---- dates ----

def date_or_none(y, m, d):
    try:
        return datetime.datetime(y, m, d) if 1900 <= y <= 2999 else None
    except ValueError:
        return None


def dates():
    rows = []
    # every month's end, and the days that may or may not be, in years of every kind of leap
    for y in (1899, 1900, 1904, 1969, 1970, 1972, 1999, 2000, 2001, 2023, 2024, 2031, 2100, 2200, 2400, 2800, 2999, 3000):
        for m in range(0, 14):
            for d in (0, 1, 28, 29, 30, 31, 32):
                rows.append((y, m, d))
    rows += [(dice.randint(1880, 3020), dice.randint(1, 12), dice.randint(1, 31)) for _ in range(1500)]
    asked, wanted = [], []
    for y, m, d in rows:
        day = date_or_none(y, m, d)
        asked.append(('when', f'{y:04d}-{m:02d}-{d:02d}'))
        wanted.append('no' if day is None else f'ABSOLUTE DATE {seconds(day) + 43200} {y:04d}-{m:02d}-{d:02d}')
        hh, mm = dice.randint(0, 25), dice.randint(0, 61)
        between = dice.choice('T ')
        asked.append(('when', f'{y:04d}-{m:02d}-{d:02d}{between}{hh:02d}:{mm:02d}'))
        good = day is not None and hh < 24 and mm < 60
        wanted.append(f'ABSOLUTE MOMENT {seconds(day) + 3600 * hh + 60 * mm} {y:04d}-{m:02d}-{d:02d}T{hh:02d}:{mm:02d}' if good else 'no')
    compare(asked, wanted)


def days():
    """Civil dates from seconds, also before 1970 and at the last second of a day."""
    asked, wanted = [], []
    for _ in range(3000):
        day = datetime.datetime(1900, 1, 1) + datetime.timedelta(days=dice.randrange(0, 401000))
        into = dice.choice([0, 1, 43200, 86399])
        asked.append(('day', str(seconds(day) + into)))
        wanted.append(day.strftime('%Y-%m-%d') if day.year >= 1000 else '')
    compare(asked, wanted)


UNIT_S = {'s': Fraction(1), 'min': Fraction(60), 'h': Fraction(3600), 'd': Fraction(86400), 'wk': Fraction(604800),
          'mo': Fraction(2629800), 'y': Fraction(31557600)}


def intervals():
    """Times after pitching, of one to four parts from large to small."""
    asked, wanted = [], []
    for _ in range(1500):
        parts = sorted(dice.sample(list(UNIT_S), dice.randint(1, 4)), key=lambda u: -UNIT_S[u])
        if dice.random() < 0.2:
            dice.shuffle(parts)
        numbers = [f'{dice.randint(0, 40)}' if dice.random() < 0.7 else f'{dice.randint(0, 9)}.{dice.randint(0, 99):02d}' for _ in parts]
        text = dice.choice(['', ' ']).join(n + dice.choice(['', ' ']) + u for n, u in zip(numbers, parts))
        falling = all(UNIT_S[a] > UNIT_S[b] for a, b in zip(parts, parts[1:]))
        total = sum(Fraction(n) * UNIT_S[u] for n, u in zip(numbers, parts))
        asked.append(('when', '+' + text))
        wanted.append(total if falling else 'no')
    for question, got, want in zip(asked, ask(asked), wanted):
        if want == 'no' or got == 'no':
            if got != want:
                print(question[1], ': got', got, 'want', want if want == 'no' else float(want))
            continue
        kind, shape, s, back = got.split(' ', 3)
        if kind != 'RELATIVE' or shape != 'MOMENT' or abs(Fraction(s) - want) > 1:
            print(question[1], ': got', got, 'want', float(want))
        # Written back in days, hours and minutes it is the same minute.
        again = ask([('when', back)])[0].split(' ') if dice.random() < 0.05 else None
        if again is not None and abs(Fraction(again[2]) - want) > 31:
            print(question[1], ': written back as', back, 'is', again[2])
    short(asked, 1500)


def compare(asked, wanted):
    for question, got, want in zip(asked, ask(asked), wanted):
        if got != want:
            print(question[1], ': got', got, 'want', want)
    short(asked, 1000)


def short(asked, least):
    if len(asked) < least:
        print('only', len(asked), 'questions')


# ---- numbers ----

# kept = written * factor + offset, exact: NIST SP 811:2008, appendix B.8 and the definitions it rests on
INCH, POUND, GALLON = Fraction('25.4'), Fraction('453.59237'), Fraction('3.785411784')
UNITS = {
    'a volume': {'L': 1, 'mL': Fraction(1, 1000), 'hL': 100, 'gal': GALLON, 'qt': GALLON / 4, 'pt': GALLON / 8, 'floz': GALLON / 128,
                 'cup': GALLON / 16, 'impgal': Fraction('4.54609')},
    'a mass': {'g': 1, 'kg': 1000, 'mg': Fraction(1, 1000), 'oz': POUND / 16, 'lb': POUND},
    'a temperature difference': {'K': 1, 'C': 1, 'F': Fraction(5, 9)},
    'a gauge pressure': {'kPa': 1, 'bar': 100, 'mbar': Fraction(1, 10), 'atm': Fraction('101.325'),
                         'psi': POUND / 1000 * Fraction('9.80665') / (INCH / 1000) ** 2 / 1000},
    'a length': {'mm': 1, 'cm': 10, 'm': 1000, 'in': INCH, 'ft': 12 * INCH},
    'a share': {'%': Fraction(1, 100)},
    'a concentration': {'mg/L': 1, 'ppm': 1, 'g/L': 1000, 'ug/L': Fraction(1, 1000), 'ppb': Fraction(1, 1000)},
    'a dose': {'mL/L': 1, 'mL/gal': 1 / GALLON, 'floz/gal': Fraction(1000, 128), 'oz/gal': Fraction(1000, 128)},
    'a number of cells': {'Gcells': 1, 'Mcells': Fraction(1, 1000)},
    'a bitterness': {'IBU': 1},
    'an area': {'m2': 1, 'cm2': Fraction(1, 10000), 'ft2': (12 * INCH / 1000) ** 2},
    'a number of yeast packs': {'packs': 1, 'pack': 1, 'packet': 1, 'packets': 1},
    'a number': {'': 1},
    'a pH': {'pH': 1, '': 1},
}
TEMPS = {'C': (Fraction(1), Fraction(0)), 'K': (Fraction(1), Fraction('-273.15')), 'F': (Fraction(5, 9), Fraction(-160, 9))}


def number():
    """A plain decimal of up to 15 digits; text and number of decimals."""
    whole = dice.randint(0, 9)
    part = dice.randint(0, min(6, 15 - whole)) if whole > 0 else dice.randint(1, 8)
    text = dice.choice(['', '', '', '+', '-'])
    text += ''.join(dice.choice('0123456789') for _ in range(whole))
    if part > 0 or dice.random() < 0.1:
        text += '.' + ''.join(dice.choice('0123456789') for _ in range(part))
    return text, part


def numbers():
    asked, wanted = [], []
    for _ in range(6000):
        dim = dice.choice(list(UNITS) + ['a temperature'])
        text, part = number()
        if dim == 'a temperature':
            unit = dice.choice(list(TEMPS))
            factor, offset = TEMPS[unit]
        else:
            unit = dice.choice(list(UNITS[dim]))
            factor, offset = Fraction(UNITS[dim][unit]), Fraction(0)
        value = Fraction(Decimal(text)) * factor + offset
        between = ' ' if unit != '' and dice.random() < 0.6 else ''
        cold = dim == 'a temperature' and value < Fraction('-273.15')
        asked.append((dim, dice.choice(['', ' ', '\r']) + text + between + unit + dice.choice(['', '  '])))
        wanted.append(None if cold else (value, factor / 10 ** part))
    for question, got, want in zip(asked, ask(asked), wanted):
        if want is None or got == 'no':
            if (want is None) != (got == 'no'):
                print(question, ': got', got, 'want', want)
            continue
        for have, exact in zip(got.split(), want):
            # a few roundings of a double; a temperature loses digits to its offset
            slack = 4e-16 * max(abs(float(exact)), 300 if question[0] == 'a temperature' else 0) + 1e-300
            if abs(Fraction(have) - exact) > slack:
                print(question, ': got', have, 'want', float(exact))
    short(asked, 6000)


MALFORMED = ['', ' ', '-', '+', '.', '+.', '--1', '+-1', '- 1', '1e3', '1E3', '1e', '0x10', 'inf', 'nan', 'Infinity', '1,5', '1.5.2', '1..2',
             '1 000', "1'000", '1_000', '1/2', '½', '１２', '1\t2', '12345678901234567890', '0.00000000000000000000001', '1 2', '٣']


def malformed():
    """Nothing but a plain decimal and a unit of the dimension is a quantity."""
    asked = []
    for dim, units in UNITS.items():
        for unit in units:
            asked += [(dim, bad + ' ' + unit) for bad in MALFORMED if bad.strip() != '' or unit != '']
            if unit != '':
                asked += [(dim, '5  ' + unit), (dim, '5' + unit + '-' + unit), (dim, unit), (dim, '5 ' + unit + '.'), (dim, unit + ' 5')]
                if unit not in ('', 'pH') and '' not in units:
                    asked.append((dim, '5'))
                swapped = unit.swapcase()
                if swapped not in units and swapped != unit:
                    asked.append((dim, '5 ' + swapped))
            for other, theirs in UNITS.items():
                foreign = dice.choice(list(theirs))
                if foreign not in units and not (foreign == '' and '' in units):
                    asked.append((dim, '5 ' + foreign))
    asked = [(d, t) for d, t in asked if '\t' not in t]
    for question, got in zip(asked, ask(asked)):
        if got != 'no':
            print(question, 'is read as', got)
    short(asked, 1000)


# ---- sensor logs ----

def shape():
    sep = dice.choice([',', ';', '\t'])
    return {'sep': sep, 'comma': sep != ',' and dice.random() < 0.5, 'f': dice.random() < 0.4, 'room': dice.random() < 0.5,
            'sg': dice.choice(['', 'sg', 'plato']), 'zone': dice.choice(['none', 'Z', '+05:30', '-0800', 'epoch', 'ms']),
            'quote': dice.random() < 0.3, 'junk': dice.random() < 0.4, 'crlf': dice.random() < 0.3, 'bom': dice.random() < 0.2,
            'offset': dice.choice([0, 3600, -18000, 20700])}


def sg_of(p):
    """Degrees Plato to SG by halving ASBC's polynomial."""
    lo, hi = 0.9, 1.3
    for _ in range(80):
        mid = (lo + hi) / 2
        if -616.868 + 1111.14 * mid - 630.272 * mid ** 2 + 135.997 * mid ** 3 < p:
            lo = mid
        else:
            hi = mid
    return lo


def stamp(moment, zone, offset):
    """The brewer's moment (wall clock) as the logger writes it."""
    utc = moment - datetime.timedelta(seconds=offset)
    if zone == 'none':
        return moment.strftime('%Y-%m-%d' + dice.choice('T ') + '%H:%M:%S')
    if zone == 'Z':
        return utc.strftime('%Y-%m-%dT%H:%M:%SZ')
    if zone in ('epoch', 'ms'):
        return str(seconds(utc) * (1000 if zone == 'ms' else 1))
    hours, minutes = int(zone[:3]), int(zone[-2:])
    there = utc + datetime.timedelta(hours=hours, minutes=minutes)
    return there.strftime('%Y-%m-%dT%H:%M:%S') + zone


def one_log(path, s):
    names = ['time' if dice.random() < 0.5 else 'Timestamp', 'Beer (F)' if s['f'] else 'temp_c']
    names += ['room [F]' if s['f'] else 'Ambient'] if s['room'] else []
    names += {'': [], 'sg': ['SG'], 'plato': ['gravity (P)']}[s['sg']]
    names += ['target temp', 'note'] if s['junk'] else []
    start = datetime.datetime(2031, 3, 1, 18)
    step = dice.choice([60, 600, 1800])
    moments = [start + datetime.timedelta(seconds=step * i + (20000 if i > 30 else 0)) for i in range(dice.randint(40, 90))]
    rows, samples, disorder, dropped, last = [], {}, 0, 0, None
    order = list(range(len(moments)))
    for _ in range(dice.randint(0, 5)):
        i, j = dice.randrange(len(order)), dice.randrange(len(order))
        order[i], order[j] = order[j], order[i]
    order += [dice.randrange(len(moments)) for _ in range(dice.randint(0, 4))]
    for i in order:
        wort, room = round(dice.uniform(-9, 59), 2), round(dice.uniform(5, 30), 1)
        g = round(dice.uniform(0, 20), 2) if s['sg'] == 'plato' else round(dice.uniform(1.0, 1.08), 4)
        written = [wort * 1.8 + 32 if s['f'] else wort]
        kept = [wort, math.nan, math.nan]
        bad = dice.random()
        lost = False
        if bad < 0.03:
            written[0], kept[0], lost = 999.0, math.nan, True
        elif bad < 0.06:
            written[0], kept[0] = dice.choice(['', 'nan', '-', 'N/A']), math.nan
        if s['room']:
            written.append(room * 1.8 + 32 if s['f'] else room)
            kept[1] = room
        if s['sg']:
            written.append(g)
            kept[2] = sg_of(g) if s['sg'] == 'plato' else g
        fields = [stamp(moments[i], s['zone'], s['offset'])]
        for v in written:
            text = v if isinstance(v, str) else f'{v:.6f}'.rstrip('0').rstrip('.')
            fields.append(text.replace('.', ',') if s['comma'] else text)
        if s['junk']:
            fields += ['99', dice.choice(['all well', 'opened'])]
        rows.append(fields)
        silent = all(math.isnan(v) for v in kept)
        dropped += lost or silent
        if silent:
            continue
        disorder += last is not None and moments[i] < last
        last = moments[i]
        samples.setdefault(moments[i], []).append(kept)
    out = io.StringIO()
    table = csv.writer(out, delimiter=s['sep'], quoting=csv.QUOTE_ALL if s['quote'] else csv.QUOTE_MINIMAL,
                       lineterminator='\r\n' if s['crlf'] else '\n')
    table.writerow(names)
    for n, fields in enumerate(rows):
        if dice.random() < 0.03:
            out.write('# a remark\n')
        table.writerow(fields)
    with open(path, 'w', encoding='utf-8-sig' if s['bom'] else 'utf-8', newline='') as f:
        f.write(out.getvalue())
    times = sorted(samples)
    gaps = [(b - a).total_seconds() for a, b in zip(times, times[1:])]
    merged = sum(len(v) for v in samples.values()) - len(samples)
    counts = [len(rows), len(times), merged, disorder, dropped, sum(g > 10800 for g in gaps), max(gaps, default=0)]
    means = []
    for t in times:
        values = [[v for v in column if not math.isnan(v)] for column in zip(*samples[t])]
        means.append([seconds(t)] + [sum(v) / len(v) if v else math.nan for v in values])
    return counts, means


def logs():
    for n in range(60):
        s = shape()
        path = f'{folder}/log.csv'
        counts, means = one_log(path, s)
        done = subprocess.run([reader], input=f'log\t{path}\t{s["offset"]}\n', text=True, capture_output=True, check=True).stdout.splitlines()
        head = done[0].split()
        got = [float(x) for x in (head[1], head[3], head[5], head[7], head[9], head[11], head[13])] if head[0] == 'log' else done[0]
        if head[0] != 'log' or len(head) != 14:
            print(n, s, done[0])
            continue
        if got != [float(c) for c in counts]:
            print(n, s, 'counts', got, 'want', counts)
        for line, want in zip(done[1:], means):
            have = [float(x) for x in line.split()]
            for a, b in zip(have, want):
                if math.isnan(a) != math.isnan(b) or abs(a - b) > 2e-5:
                    print(n, s, 'sample', have, 'want', want)
                    break
        if len(done) - 1 != len(means):
            print(n, s, len(done) - 1, 'samples, want', len(means))


globals()[what]()
