import { columnWords, formWords, type ListColumn, lacking, listColumns } from './list-columns.ts';
import styles from './price-lists.module.css';
import type { Import } from './use-import.ts';

/** The first lines of the list; above each column stands what it means, to be changed. */
export function ColumnsTable({ job }: { job: Import }) {
  if (!job.list) return null;
  const { preview, places, decimalSign } = job.list;
  const standsFor = (at: number): ListColumn | '' =>
    listColumns.find((column) => places[column] === at) ?? '';
  const missing = lacking(places);
  return (
    <>
      <p>
        <b>{preview.fileName}</b> is {formWords(preview)}; the headings stand in row {preview.headingsRow}.{' '}
        {preview.isRemembered
          ? 'The columns are set as they were for the last list of this supplier.'
          : 'Look whether the columns mean what is said above them.'}
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide list scrolls sideways, also by keyboard */}
      <section className={styles.scroll} aria-label="First lines of the list" tabIndex={0}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="row">Row</th>
              {preview.headings.map((heading, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: a column is its place; two can have one heading
                <td key={at}>
                  <select
                    aria-label={`What “${preview.names[at] ?? heading}” stands for`}
                    value={standsFor(at)}
                    onChange={(event) =>
                      job.setColumn(at, event.target.value === '' ? null : (event.target.value as ListColumn))
                    }
                  >
                    <option value="">not used</option>
                    {listColumns.map((column) => (
                      <option key={column} value={column}>
                        {columnWords[column]}
                      </option>
                    ))}
                  </select>
                </td>
              ))}
            </tr>
            <tr>
              <th scope="row">{preview.headingsRow}</th>
              {preview.headings.map((heading, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: as above
                <th key={at} scope="col">
                  {heading || 'no heading'}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {preview.rows.map((line) => (
              <tr key={line.row}>
                <th scope="row">{line.row}</th>
                {preview.headings.map((_, at) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: as above
                  <td key={at} className={standsFor(at) === '' ? styles.unused : ''}>
                    {line.fields[at] ?? ''}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <fieldset className={styles.signs}>
        <legend>Decimals of the prices stand after a</legend>
        {([',', '.'] as const).map((sign) => (
          <label key={sign}>
            <input
              type="radio"
              name="decimal-sign"
              checked={decimalSign === sign}
              onChange={() => job.setSign(sign)}
            />
            {sign === ',' ? 'comma: 1.234,50' : 'point: 1,234.50'}
          </label>
        ))}
      </fieldset>
      {missing ? <p role="status">{missing}</p> : null}
    </>
  );
}
