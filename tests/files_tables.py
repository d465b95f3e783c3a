"""The same table as every kind of file a program may write."""

import io
import zipfile

import openpyxl
import xlwt


def csv_bytes(rows, separator=",", encoding="utf-8") -> bytes:
    return "\n".join(separator.join(row) for row in rows).encode(encoding)


def xlsx_bytes(rows) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def xls_bytes(rows) -> bytes:
    book = xlwt.Workbook()
    sheet = book.add_sheet("one")
    for i, row in enumerate(rows):
        for j, cell in enumerate(row):
            sheet.write(i, j, cell)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def ods_bytes(rows) -> bytes:
    office = "urn:oasis:names:tc:opendocument:xmlns"
    cells = "".join(
        "<table:table-row>"
        + "".join(
            f'<table:table-cell office:value-type="string"><text:p>{cell}</text:p>'
            "</table:table-cell>"
            if cell
            else "<table:table-cell/>"
            for cell in row
        )
        + "</table:table-row>"
        for row in rows
    )
    content = (
        '<?xml version="1.0" encoding="UTF-8"?><office:document-content '
        f'xmlns:office="{office}:office:1.0" xmlns:table="{office}:table:1.0" '
        f'xmlns:text="{office}:text:1.0"><office:body><office:spreadsheet>'
        f'<table:table table:name="one">{cells}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        kind = "application/vnd.oasis.opendocument.spreadsheet"
        packed.writestr("mimetype", kind)
        packed.writestr("content.xml", content)
        packed.writestr(
            "META-INF/manifest.xml",
            '<?xml version="1.0"?><manifest:manifest '
            f'xmlns:manifest="{office}:manifest:1.0"/>',
        )
    return out.getvalue()
