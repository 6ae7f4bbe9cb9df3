"""Prints every cell of a workbook: sheet, row, column (from 0), kind, number format, value, by tabs.

A reader that shares nothing with the writer: Python's zipfile checks each part's CRC, ElementTree that it is
well-formed XML. A formula is printed as such. Ends with the frozen panes and the document's date.
"""
import re
import sys
import xml.etree.ElementTree as tree
import zipfile

M = '{http://schemas.openxmlformats.org/spreadsheetml/2006/main}'
book = zipfile.ZipFile(sys.argv[1])
assert book.testzip() is None


def part(name):
    return tree.fromstring(book.read(name))


def column_of(reference):
    number = 0
    for letter in re.match('[A-Z]+', reference).group():
        number = 26 * number + ord(letter) - 64
    return number - 1


strings = [''.join(t.text or '' for t in s.iter(M + 't')) for s in part('xl/sharedStrings.xml').iter(M + 'si')]
styles = part('xl/styles.xml')
codes = {f.get('numFmtId'): f.get('formatCode') for f in styles.iter(M + 'numFmt')}
codes['1'] = '0'
codes['2'] = '0.00'
formats = [codes.get(x.get('numFmtId'), '') for x in styles.find(M + 'cellXfs')]
for n, sheet in enumerate(part('xl/workbook.xml').iter(M + 'sheet'), 1):
    page = part('xl/worksheets/sheet%d.xml' % n)
    for cell in page.iter(M + 'c'):
        reference, kind = cell.get('r'), cell.get('t', 'n')
        value = cell.findtext(M + 'v', '')
        if cell.find(M + 'f') is not None:
            kind = 'formula'
        elif kind == 's':
            value = strings[int(value)]
        value = value.replace('\\', '\\\\').replace('\t', '\\t').replace('\n', '\\n')
        print(sheet.get('name'), int(re.search(r'\d+', reference).group()) - 1, column_of(reference), kind,
              formats[int(cell.get('s', '0'))], value, sep='\t')
    pane = page.find('.//' + M + 'pane')
    print(sheet.get('name'), 'frozen', pane.get('ySplit'), pane.get('xSplit'), sep='\t')
print('created', re.search(r'created[^>]*>([^<]*)', book.read('docProps/core.xml').decode()).group(1), sep='\t')
