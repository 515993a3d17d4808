import { catalog } from './catalog.ts';
import { catalogTies } from './catalog-ties.ts';
import { circuits } from './circuits.ts';
import { claims } from './claims.ts';
import { diagnosis } from './diagnosis.ts';
import type { AllSteps } from './group.ts';
import { handbook } from './handbook.ts';
import { jobs } from './jobs.ts';
import { parts } from './parts.ts';
import { patterns } from './patterns.ts';
import { people } from './people.ts';
import { priceListPreview } from './price-list-preview.ts';
import { priceLists } from './price-lists.ts';
import { quotes } from './quotes.ts';
import { readings } from './readings.ts';
import { reportWorks } from './report-works.ts';
import { shop } from './shop.ts';
import { stock } from './stock.ts';
import { upkeep } from './upkeep.ts';

/** Every procedure of the contract with the step that carries it out. */
export const procedures: AllSteps = {
  ...diagnosis,
  ...readings,
  ...circuits,
  ...people,
  ...parts,
  ...catalog,
  ...catalogTies,
  ...priceLists,
  ...priceListPreview,
  ...quotes,
  ...stock,
  ...claims,
  ...jobs,
  ...handbook,
  ...upkeep,
  ...patterns,
  ...reportWorks,
  ...shop,
};
