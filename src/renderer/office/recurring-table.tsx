import { Link } from 'react-router';
import type { RecurringBy, RecurringGroup } from '../../api/contract.ts';
import { percent } from '../words/units.ts';
import type { FileOf } from './file-buttons.tsx';
import styles from './report.module.css';
import { type Column, ReportTable } from './report-table.tsx';
import { byWords, changeWords, rateWords } from './report-words.ts';

interface Props {
  by: RecurringBy;
  groups: readonly RecurringGroup[];
  per: string;
  file: FileOf;
  /** What an address of the jobs behind a row carries besides the group. */
  search: Readonly<Record<string, string>>;
}

/** Groups with their counts, rates and change; each opens the jobs behind it. */
export function RecurringTable({ by, groups, per, file, search }: Props) {
  const columns: Column<RecurringGroup>[] = [
    {
      title: byWords[by],
      isName: true,
      shows: (group) =>
        group.concerns === 0 ? (
          group.title
        ) : (
          <Link to={`/office/jobs?${new URLSearchParams({ ...search, by, key: group.key })}`}>
            {group.title}
          </Link>
        ),
    },
    { title: 'Concerns', shows: (group) => group.concerns.toLocaleString('en-US'), isNumber: true },
    {
      title: `Per 100 of ${per}`,
      shows: (group) => rateWords(group.rate, group.concerns, group.visits),
      isNumber: true,
    },
    ...(groups.some((group) => group.vehicles !== null)
      ? [
          {
            title: 'Per 100 vehicles in care',
            shows: (group: RecurringGroup) =>
              group.vehicles === 0
                ? 'no vehicles'
                : rateWords(group.rateInCare, group.concerns, group.vehicles ?? 0),
            isNumber: true,
          },
        ]
      : []),
    // Sums belong to an order from the most to the fewest, and people have none.
    ...(by === 'technician'
      ? []
      : [
          {
            title: 'Up to here',
            shows: (group: RecurringGroup) => percent(group.cumulative),
            isNumber: true,
          },
        ]),
  ];
  const before: Column<RecurringGroup>[] = groups.some((group) => group.before !== null)
    ? [
        {
          title: 'Before',
          shows: (group) =>
            group.before ? rateWords(group.rateBefore, group.before.concerns, group.before.visits) : '',
          isNumber: true,
        },
        ...(by === 'technician'
          ? []
          : [
              {
                title: 'Change',
                shows: (group: RecurringGroup) => (
                  <span className={styles.whole}>{changeWords(group.change)}</span>
                ),
              },
            ]),
      ]
    : [];
  return (
    <ReportTable
      caption={`Concerns by ${byWords[by].toLowerCase()}`}
      columns={[...columns, ...before]}
      rows={groups}
      keyOf={(group) => group.key}
      file={file}
    />
  );
}
