import type { CustomerView, VehicleView } from '../../api/contract.ts';
import { Button } from '../pieces/button.tsx';
import { useRead } from '../session/use-read.ts';
import styles from './known-vehicle.module.css';

/** A customer was picked: which of the machines, or a new one below. */
export function CustomerVehicles({
  customer,
  onPick,
}: {
  customer: CustomerView;
  onPick: (vehicle: VehicleView) => void;
}) {
  const known = useRead('customers.get', { customerId: customer.customerId });
  return (
    <div className={styles.person}>
      <p>
        <strong>{customer.name}</strong> {customer.phone}
      </p>
      {known.data?.vehicles.map((vehicle) => (
        <Button key={vehicle.vehicleId} onClick={() => onPick(vehicle)}>
          {vehicle.plate ?? vehicle.frame ?? 'no plate'} · {vehicle.modelTitle}
        </Button>
      ))}
    </div>
  );
}
