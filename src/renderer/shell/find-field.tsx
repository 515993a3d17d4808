import { type ReactNode, useEffect, useRef, useState } from 'react';
import {
  ComboBox,
  Header,
  Input,
  Label,
  ListBox,
  ListBoxItem,
  ListBoxSection,
  Popover,
} from 'react-aria-components';
import { useNavigate } from 'react-router';
import type { OutputOf } from '../../api/contract.ts';
import { useDelayed } from '../session/use-delayed.ts';
import { useRead } from '../session/use-read.ts';
import { statusWords } from '../words/labels.ts';
import styles from './find-field.module.css';

interface Hit {
  readonly id: string;
  readonly to: string;
  readonly title: string;
  readonly detail: string;
}
interface Group {
  readonly title: string;
  readonly hits: readonly Hit[];
}

function groupsOf(found: OutputOf<'counter.find'>, text: string): Group[] {
  const groups: Group[] = [
    {
      title: 'Jobs',
      hits: found.jobs.slice(0, 6).map((job) => ({
        id: `job ${job.jobId}`,
        to: `/bench/${job.number}`,
        title: `Job ${job.number} · ${job.plate ?? 'no plate'}`,
        detail: `${statusWords[job.status]} · ${job.modelTitle}${job.customer ? ` · ${job.customer}` : ''}`,
      })),
    },
    {
      title: 'Vehicles',
      hits: found.vehicles.slice(0, 5).map((vehicle) => ({
        id: `vehicle ${vehicle.vehicleId}`,
        to: `/counter?vehicle=${vehicle.vehicleId}`,
        title: vehicle.plate ?? vehicle.frame ?? 'no plate',
        detail: `${vehicle.modelTitle}${vehicle.customer ? ` · ${vehicle.customer.name}` : ''}`,
      })),
    },
    {
      title: 'Customers',
      hits: found.customers.slice(0, 4).map((customer) => ({
        id: `customer ${customer.customerId}`,
        to: `/counter?customer=${customer.customerId}`,
        title: customer.name,
        detail: customer.phone ?? '',
      })),
    },
    {
      title: 'Parts',
      hits: found.parts.slice(0, found.isPartNumber ? 6 : 3).map((part) => ({
        id: `part ${part.partNumber}`,
        to: `/counter/parts?part=${encodeURIComponent(part.partNumber)}`,
        title: part.partNumber,
        detail: `${part.title}${part.stock ? ` · ${part.stock.free} free` : ''}`,
      })),
    },
    {
      title: 'Symptoms',
      hits: found.symptoms.slice(0, 4).map((match) => ({
        id: `symptom ${match.symptomId}`,
        to: `/counter?say=${encodeURIComponent(text)}`,
        title: match.title,
        detail: match.why,
      })),
    },
    {
      title: 'Models',
      hits: found.models.slice(0, 4).map((model) => ({
        id: `model ${model.modelId}`,
        to: `/handbook/model/${model.modelId}`,
        title: model.title,
        detail: model.family,
      })),
    },
  ];
  // A whole number or a scanned barcode is that part before anything else.
  if (found.isPartNumber) groups.sort((a, b) => Number(b.title === 'Parts') - Number(a.title === 'Parts'));
  return groups.filter((group) => group.hits.length > 0);
}

/** The one find field: jobs, plates, names, parts, symptoms, models. "/" puts the cursor in it. */
export function FindField(): ReactNode {
  const [text, setText] = useState('');
  const asked = useDelayed(text.trim());
  const input = useRef<HTMLInputElement>(null);
  const navigate = useNavigate();
  const found = useRead('counter.find', asked ? { text: asked } : null, { keep: true });
  const groups = asked && found.data ? groupsOf(found.data, asked) : [];

  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const target = event.target as HTMLElement;
      if (event.key !== '/' || event.ctrlKey || target.closest('input, textarea, select, [contenteditable]'))
        return;
      event.preventDefault();
      input.current?.focus();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, []);

  return (
    <ComboBox
      className={styles.find ?? ''}
      inputValue={text}
      onInputChange={setText}
      items={groups}
      defaultFilter={() => true}
      allowsEmptyCollection
      menuTrigger="input"
      selectedKey={null}
      onSelectionChange={(key) => {
        if (key === null) return;
        setText('');
        input.current?.blur();
        const hit = groups.flatMap((group) => group.hits).find(({ id }) => id === key);
        if (hit) void navigate(hit.to);
      }}
    >
      <Label className="unseen">Find a job, plate, name, part or symptom</Label>
      <Input ref={input} className={styles.input ?? ''} placeholder="Find a job, plate, name, part…" />
      <Popover className={styles.popover ?? ''} placement="bottom end">
        <ListBox
          className={styles.list ?? ''}
          renderEmptyState={() => (
            <p className={styles.none}>
              {asked === '' || found.isFetching
                ? 'Looking…'
                : `Nothing fits “${asked}”. Try a plate, a name or a job number.`}
            </p>
          )}
        >
          {(group: Group) => (
            <ListBoxSection id={group.title} key={group.title}>
              <Header className={styles.group ?? ''}>{group.title}</Header>
              {group.hits.map((hit) => (
                <ListBoxItem key={hit.id} id={hit.id} textValue={hit.title} className={styles.hit ?? ''}>
                  <span className={styles.title}>{hit.title}</span>
                  <span className={styles.detail}>{hit.detail}</span>
                </ListBoxItem>
              ))}
            </ListBoxSection>
          )}
        </ListBox>
      </Popover>
    </ComboBox>
  );
}
