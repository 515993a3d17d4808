import { Button } from '../pieces/button.tsx';
import { ColumnTitle } from '../pieces/column-title.tsx';
import { Empty } from '../pieces/empty.tsx';
import { statusWords } from '../words/labels.ts';
import { moneyWords } from '../words/money.ts';
import { CardFields } from './card-fields.tsx';
import { ChoiceList, ChoiceWords } from './choice-list.tsx';
import { CustomerVehicles } from './customer-vehicles.tsx';
import { KnownVehicle } from './known-vehicle.tsx';
import { NewVehicle } from './new-vehicle.tsx';
import type { Choice } from './use-choices.ts';
import { newVehicleOf } from './use-choices.ts';
import type { IntakeDesk } from './use-intake.ts';

interface Props {
  desk: IntakeDesk;
  found: readonly Choice[];
  activeId: string | undefined;
  onTake: (choice: Choice) => void;
  /** The vehicle is entered: back to the field at the top. */
  onDone: () => void;
}

function showChoice(choice: Choice) {
  if (choice.kind === 'vehicle') {
    const { plate, frame, modelTitle, year, customer } = choice.vehicle;
    return (
      <ChoiceWords
        title={plate ?? frame ?? 'no plate'}
        detail={`${modelTitle}${year ? ` (${year})` : ''}${customer ? ` · ${customer.name}` : ''}`}
      />
    );
  }
  if (choice.kind === 'customer') {
    return <ChoiceWords title={choice.customer.name} detail={choice.customer.phone ?? 'customer'} />;
  }
  if (choice.kind === 'job') {
    return (
      <ChoiceWords
        title={`Job ${choice.job.number}, ${statusWords[choice.job.status].toLowerCase()}`}
        detail={`${choice.job.plate ?? 'no plate'} · ${choice.job.modelTitle}`}
      />
    );
  }
  if (choice.kind === 'part') {
    const { partNumber, title, prices, stock } = choice.part;
    return (
      <ChoiceWords
        title={`Part ${partNumber}`}
        detail={[
          title,
          stock ? `${stock.free} free, bin ${stock.bin ?? 'not set'}` : 'none on the shelf',
          prices[0] ? moneyWords(prices[0].price) : 'no price',
        ].join(' · ')}
      />
    );
  }
  if (choice.kind === 'new-vehicle') {
    return (
      <ChoiceWords
        title="New vehicle"
        detail={choice.plate ? `with plate ${choice.plate.toUpperCase()}` : ''}
      />
    );
  }
  return null;
}

/** Left: which machine, whose it is, what happened to it before, and what stands on the card. */
export function VehicleColumn({ desk, found, activeId, onTake, onDone }: Props) {
  const { vehicle } = desk.intake;
  return (
    <section aria-label="Vehicle and customer">
      <ColumnTitle
        right={
          vehicle ? (
            <Button size="row" look="quiet" onClick={() => desk.setVehicle(null)}>
              Another vehicle
            </Button>
          ) : null
        }
      >
        Vehicle and customer
      </ColumnTitle>
      <ChoiceList
        id="counter-people"
        label="Vehicles, customers and parts"
        choices={found}
        activeId={activeId}
        show={showChoice}
        onTake={onTake}
      />
      {vehicle?.kind === 'known' ? (
        <KnownVehicle vehicleId={vehicle.vehicle.vehicleId}>
          <CardFields desk={desk} />
        </KnownVehicle>
      ) : null}
      {vehicle?.kind === 'new' ? (
        <>
          {vehicle.customer ? (
            <CustomerVehicles
              customer={vehicle.customer}
              onPick={(known) => desk.setVehicle({ kind: 'known', vehicle: known })}
            />
          ) : null}
          <NewVehicle vehicle={vehicle} onChange={desk.setVehicle} onDone={onDone} />
        </>
      ) : null}
      {!vehicle && found.length === 0 ? (
        <Empty title="Which scooter is it?">
          <p>Type its plate or the customer’s name above. A new one is entered here.</p>
          <Button size="row" onClick={() => desk.setVehicle(newVehicleOf(''))}>
            New vehicle
          </Button>
        </Empty>
      ) : null}
      {vehicle?.kind !== 'known' && (vehicle || desk.intake.concerns.length > 0) ? (
        <CardFields desk={desk} />
      ) : null}
    </section>
  );
}
