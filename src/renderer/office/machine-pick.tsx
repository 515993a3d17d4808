import { useRead } from '../session/use-read.ts';
import { Pick } from './pick.tsx';
import type { Filters } from './use-filters.ts';

interface Props {
  filters: Filters;
  modelId: string | undefined;
  componentId: string | undefined;
  /** Components that the ledger has, with what it calls them. */
  components: readonly { readonly key: string; readonly title: string }[] | undefined;
}

interface Choice {
  readonly value: string;
  readonly title: string;
}

/** What the address names stays in the list, also when neither the book nor the ledger has it. */
const withChosen = (choices: readonly Choice[], chosen: string | undefined, what: string): Choice[] =>
  chosen === undefined || choices.some((one) => one.value === chosen)
    ? [...choices]
    : [...choices, { value: chosen, title: `no such ${what}: ${chosen}` }];

/** Which model and which component a report is about. */
export function MachinePick({ filters, modelId, componentId, components }: Props) {
  const models = useRead('models.list', {}, { stale: 600_000 });
  return (
    <>
      <Pick
        label="Model"
        value={modelId ?? ''}
        choices={withChosen(
          [
            { value: '', title: 'Every model' },
            ...(models.data?.models ?? []).map((model) => ({
              value: model.modelId,
              title: `${model.maker} ${model.name}`,
            })),
          ],
          models.data ? modelId : undefined,
          'model',
        )}
        onPick={(value) => filters.set({ model: value })}
      />
      <Pick
        label="Component"
        value={componentId ?? ''}
        choices={withChosen(
          [
            { value: '', title: 'Every component' },
            ...(components ?? [])
              .filter((group) => group.key !== '')
              .map((group) => ({ value: group.key, title: group.title })),
          ],
          components ? componentId : undefined,
          'component',
        )}
        onPick={(value) => filters.set({ component: value })}
      />
    </>
  );
}
