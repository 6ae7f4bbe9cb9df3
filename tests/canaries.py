"""Plants a marked word in every name of a demo night, and hunts for it in what leaves the program.

    canaries.py plant FOLDER LIST      names of the night in FOLDER become marked ones; LIST gets them, a line each
    canaries.py hunt LIST PATH...      files, folders and standard input (-) that hold a mark: printed, exit 1
    canaries.py numbers FOLDER FOLDER  the numbers of the CSV tables of two reports are the same, rows in any order

Shares nothing with the program. Parts of workbooks and pictures inside pages are unpacked first; a name is also
looked for in hexadecimal, percent-encoded, and as the beginning of its plain SHA-256.
"""
import base64
import collections
import csv
import hashlib
import os
import re
import struct
import sys
import zipfile
import zlib

MARK = 'Zqcanary'
planted = []


def bird(kind, name=''):
    word = MARK + kind + re.sub('[^A-Za-z0-9]', '', name) + 'z'
    if word not in planted:
        planted.append(word)
    return word


def renamed(kind, header):
    """A column's unit stays where the reader looks for it."""
    unit = re.search(r' \[[^]]*\]$', header)
    return bird(kind, header) + (unit[0] if unit else '')


def png(path):
    def chunk(kind, data):
        return struct.pack('>I', len(data)) + kind + data + struct.pack('>I', zlib.crc32(kind + data))
    rows = b''.join(b'\0' + bytes([40 * y] * 24) for y in range(6))
    with open(path, 'wb') as out:
        out.write(b'\x89PNG\r\n\x1a\n' + chunk(b'IHDR', struct.pack('>IIBBBBB', 8, 6, 8, 2, 0, 0, 0)) +
                  chunk(b'tEXt', b'Author\0' + (MARK + 'meta').encode()) +
                  chunk(b'IDAT', zlib.compress(rows)) + chunk(b'IEND', b''))


def rewrite(path, change):
    with open(path, newline='') as source:
        rows = list(csv.reader(source))
    rows = change(rows)
    with open(path, 'w', newline='') as out:
        csv.writer(out, lineterminator='\n').writerows(rows)


def plant_campaign(folder):
    columns = {}
    lines = open(folder + '/campaign.yaml').read().split('\n')
    out = []
    for line in lines:
        line = line.split(' #')[0] if not line.lstrip().startswith('#') else ''
        column = re.match(r'^      ("?)([^":]+)\1:( +\{role)', line)
        if column:
            columns[column[2]] = renamed('column', column[2])
            line = '      "%s":%s%s' % (columns[column[2]], column[3], line[column.end():])
        line = re.sub(r'(name: |map_attitude: )(F\d+ R\d+(?: Y-?\d+)?)',
                      lambda m: m[1] + bird('attitude', m[2].replace('-', 'm')), line)
        line = re.sub(r'^  (downforce|drag|balance|efficiency):( +\{quantity)',
                      lambda m: '  %s:%s' % (bird('metric', m[1]), m[2]), line)
        line = re.sub(r'(metric: |per: )(downforce|drag)', lambda m: m[1] + bird('metric', m[2]), line)
        line = re.sub(r'(\{source: )([^,]+),', lambda m: m[1] + bird('source', m[2]) + ',', line)
        line = re.sub(r'(evidence: )([^}]+)\}', lambda m: m[1] + bird('evidence', m[2]) + '}', line)
        line = re.sub(r'(configuration: )front-flap', lambda m: m[1] + bird('part', 'front-flap'), line)
        line = re.sub(r'^  front flap:', lambda m: '  ' + bird('device') + ':', line)
        for old, kind in (('Saltmarsh winter tests', 'season'), ('Curlew C4', 'car'), ('silhouette of drawing C4-007', 'drawing'),
                          ('saltmarsh', 'facility'), ('underfloor', 'balance'), ('one percent of the downforce on the front axle', 'word')):
            if old in line:
                line = line.replace(old, bird(kind))
        line = re.sub(r'^  (forces|pressures):', lambda m: '  %s:' % bird('map', m[1]), line)
        out.append(line)
    out.append('keep_samples: [%s]' % columns['hF'])
    with open(folder + '/campaign.yaml', 'w') as f:
        f.write('\n'.join(out) + '\n')
    os.rename(folder + '/balance/underfloor.csv', folder + '/balance/%s.csv' % bird('balance'))
    return columns


def plant_sheets(folder):
    def configurations(rows):
        for row in rows[1:]:
            row[0:2] = [bird('part', x) if x else '' for x in row[0:2]]
            row[2:4] = [bird('wrote', x) if x else '' for x in row[2:4]]
        at = rows[0].index('change')
        for i, row in enumerate(rows):
            row.append('image' if i == 0 else bird('picture') + '.png' if row[at] else '')
        return rows

    def runs(rows):
        head = rows[0]
        for row in rows[1:]:
            for name, kind in (('run', 'run'), ('facility', 'facility'), ('entry', 'entry'), ('configuration', 'part'),
                               ('balance', 'balance'), ('note', 'note')):
                at = head.index(name)
                old = row[at]
                row[at] = bird(kind, '' if name in ('facility', 'balance') else old) if old else ''
            at = head.index('logs')
            logs = []
            for item in row[at].split(';'):
                which, file = item.strip().split('=')
                new = 'logs/%s.csv' % bird('log', os.path.basename(file)[:-4])
                if os.path.exists(folder + '/' + file):
                    os.rename(folder + '/' + file, folder + '/' + new)
                logs.append('%s=%s' % (bird('map', which), new))
            row[at] = ';'.join(logs)
            for name in ('zero', 'tare'):
                at = head.index(name)
                if row[at] and re.match(r'^[A-Z]\d+[A-Z]?$', row[at]):
                    row[at] = bird('run', row[at])
            at = head.index('mounting')
            row[at] = bird('mounting') + row[head.index('run')] if row[head.index('kind')] == 'wind_on' else row[at]
        return rows

    def taps(rows):
        head = rows[0]
        for row in rows[2:]:
            for name, kind in (('tap', 'tap'), ('column', 'tapcolumn'), ('surface', 'surface')):
                at = head.index(name)
                row[at] = renamed(kind, row[at])
        return rows

    rewrite(folder + '/configurations.csv', configurations)
    rewrite(folder + '/runs.csv', runs)
    rewrite(folder + '/taps.csv', taps)
    png(folder + '/%s.png' % bird('picture'))
    with open(folder + '/runs.csv', newline='') as f:
        wind_on = [r['run'] for r in csv.DictReader(f) if r['kind'] == 'wind_on']
    with open(folder + '/decisions.csv', 'w') as f:
        f.write('run,point,decision,who,when,why\n%s,%s,exclude,%s,2026-02-12,%s\n' %
                (wind_on[2], bird('point', '8'), bird('who'), bird('why')))


def plant_logs(folder, columns):
    for name in sorted(os.listdir(folder + '/logs')):
        path = folder + '/logs/' + name
        lines = open(path).read().split('\n')
        at = next(i for i, x in enumerate(lines) if x.startswith('Time'))
        mark = ';' if ';' in lines[at] else ','
        head = lines[at].split(mark)
        point = next((i for i, x in enumerate(head) if x in ('Pt', 'Point')), None)
        lines[at] = mark.join(columns.get(x, renamed('tapcolumn', x) if re.match('T\\d', x) and '[' in x else x) for x in head)
        for i in range(at + 1, len(lines)):
            cells = lines[i].split(mark)
            if point is not None and len(cells) == len(head) and re.match(r'^-?\d+$', cells[point]):
                cells[point] = bird('point', cells[point])
                lines[i] = mark.join(cells)
        with open(path, 'w') as f:
            f.write('\n'.join(lines))


def plant(folder, names):
    columns = plant_campaign(folder)
    plant_sheets(folder)
    plant_logs(folder, columns)
    with open(names, 'w') as f:
        f.write('\n'.join(planted) + '\n')


def parts(path):
    """Every file below path with its name, and what is packed in it."""
    if path == '-':
        yield 'standard input', sys.stdin.buffer.read()
        return
    files = [path]
    if os.path.isdir(path):
        files = [os.path.join(d, f) for d, _, all_files in os.walk(path) for f in all_files]
    for file in sorted(files):
        data = open(file, 'rb').read()
        yield file, os.path.basename(file).encode()
        yield file, data
        if data[:2] == b'PK':
            book = zipfile.ZipFile(file)
            for name in book.namelist():
                yield file + ':' + name, name.encode() + b'\n' + book.read(name)
        for found in re.findall(rb'base64,([A-Za-z0-9+/=]+)', data):
            yield file + ': picture', base64.b64decode(found)


def found_in(data, hashes):
    """The first place of a mark, in clear or coded; None."""
    low = data.lower()
    for needle in (MARK.lower().encode(), MARK.encode().hex().encode(),
                   ''.join('%%%02x' % byte for byte in MARK.encode()).encode()):
        if needle in low:
            return low.index(needle)
    for run in re.finditer(rb'[0-9a-f]{10,}', low):
        if run[0][:10] in hashes:
            return run.start()
    return None


def hunt(names, paths):
    hashes = {hashlib.sha256(name.encode()).hexdigest()[:10].encode() for name in open(names).read().split()}
    found = seen = 0
    for path in paths:
        for where, data in parts(path):
            seen += 1
            at = found_in(data, hashes)
            if at is not None:
                found += 1
                print(where, data[max(0, at - 60):at + 60])
    print('seen', seen, 'found', found)
    return 1 if found else 0


def table(path):
    """Rows of the columns that are numbers throughout, times left out."""
    with open(path, newline='') as f:
        rows = list(csv.reader(f))
    def number(text):
        try:
            float(text)
            return True
        except ValueError:
            return text == ''
    data = rows[2:]
    return rows[0], data, [i for i, name in enumerate(rows[0])
                           if 'time' not in name and all(number(r[i]) for r in data) and any(r[i] for r in data)]


def numbers(one, other):
    n = 0
    for name in sorted(os.listdir(one)):
        if not name.endswith('.csv'):
            continue
        head, data, keep = table(one + '/' + name)
        head_other, data_other, _ = table(other + '/' + name)
        assert head == head_other and len(data) == len(data_other), name
        count = [collections.Counter(tuple(r[i] for i in keep) for r in rows) for rows in (data, data_other)]
        assert count[0] == count[1], (name, [head[i] for i in keep], list((count[0] - count[1]).items())[:2],
                                      list((count[1] - count[0]).items())[:2])
        n += len(data) * len(keep)
        print(name, len(data), len(keep))
    print('numbers', n)
    return 0 if n > 1000 else 1


if sys.argv[1] == 'plant':
    plant(sys.argv[2], sys.argv[3])
elif sys.argv[1] == 'hunt':
    sys.exit(hunt(sys.argv[2], sys.argv[3:]))
else:
    sys.exit(numbers(sys.argv[2], sys.argv[3]))
