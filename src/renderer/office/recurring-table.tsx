import type { RecurringBy, RecurringGroup } from '../../api/contract.ts';
import { percent } from '../words/units.ts';
import { type Column, ReportTable } from './report-table.tsx';
import { byWords, changeWords, rateWords } from './report-words.ts';

interface Props {
  by: RecurringBy;
  groups: readonly RecurringGroup[];
  per: string;
  file: string;
}

/** Groups with their counts, rates and change. */
export function RecurringTable({ by, groups, per, file }: Props) {
  const columns: Column<RecurringGroup>[] = [
    { title: byWords[by], text: (group) => group.title },
    { title: 'Concerns', text: (group) => group.concerns, isNumber: true },
    {
      title: `Per 100 of ${per} (95 %)`,
      text: (group) => rateWords(group.rate, group.concerns, group.visits),
      isNumber: true,
    },
    { title: 'Up to here', text: (group) => percent(group.cumulative), isNumber: true },
  ];
  const before: Column<RecurringGroup>[] = groups.some((group) => group.before !== null)
    ? [
        {
          title: 'Before',
          text: (group) =>
            group.before ? rateWords(group.rateBefore, group.before.concerns, group.before.visits) : '',
          isNumber: true,
        },
        { title: 'Change', text: (group) => changeWords(group.change) },
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
