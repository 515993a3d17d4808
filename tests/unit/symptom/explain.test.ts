import { describe, expect, test } from 'vitest';
import { createFinder } from '../../../src/symptom/index.ts';
import { shippedBook } from '../../reference/symptom-complaints.ts';

const finder = createFinder(shippedBook(), []);

// Stories written for this test. What a person would underline is the judgment of whoever wrote them; no source.
const stories: readonly (readonly [symptomId: string, underlined: RegExp, text: string])[] = [
  [
    'horn-dead',
    /horn|hooter|beep/,
    'Took my sister to the station on Monday and a taxi nearly reversed into us, so I went for the horn and there was not a peep out of it. Everything else on the bike seems fine, it pulls well, the lights are bright, and I had it serviced in spring. Could you have a look some time this week please, I finish work at four and can leave it overnight.',
  ],
  [
    'brake-spongy',
    /spong|lever|soft|bar/,
    'We came back from the coast last night with all the luggage and my wife on the back, and on the long hill down to the village the front brake lever went soft and came all the way to the bar. I pumped it a few times and it got better. It has never done that before and the pads were new in June, so I do not know what to make of it.',
  ],
  [
    'will-not-stop',
    /key|off|running|turn/,
    'My son says it did this at college too. He parked up, turned the key off, and the engine just kept on running as if nothing had happened, so he had to stall it against the brake in front of all his mates. Very embarrassing for him and he wants it sorted before Friday when he has his driving lesson on the other side of town.',
  ],
  [
    'start-click',
    /click/,
    'Good morning, I bought this scooter from my neighbor in autumn and it has been good to me, but now when I press the button there is one single click from the relay and the starter motor does not turn. My brother in law charged the battery all of Sunday with the thing from his boat and it made no difference whatsoever.',
  ],
  [
    'headlamp-out',
    /head|light|lamp|beam/,
    'Rode home from the late shift on Tuesday and a policeman stopped me at the roundabout because my headlight was out. He was nice about it and let me go. The tail light works and so do the indicators, and the rest of the scooter runs a treat. I had a go at looking inside but could not get the panel off without breaking something.',
  ],
  [
    'fuel-smell',
    /petrol|smell|stink/,
    'It lives in the garage next to the kitchen and for about a week now the whole house stinks of petrol by the morning, my husband has moved out to the sofa because of the headache. There is a small wet patch under the machine as well. It starts and rides just as it always did, and I only use it for the shops and the allotment.',
  ],
  [
    'overheats',
    /hot|heat|temp|boil/,
    'In the city traffic on the way to the office the temperature needle climbs right up into the red and then the warning lamp comes on, so I pull over and let it cool for ten minutes. On the open road it is fine again. My colleague has the same model and his never gets anywhere near that hot even in the middle of August.',
  ],
  [
    'drive-slips',
    /slip|rev|belt|scream/,
    'Since I fitted the new top box and took my daughter on holiday with it, the engine revs and screams going uphill but the scooter hardly moves forward, as if the belt was slipping on something. On the flat it gets there in the end. A man at the campsite said to sell it, which I thought was rather rude of him.',
  ],
  [
    'oil-leak',
    /oil|drip|leak/,
    'The landlord has sent me a letter because of the stain on the new paving. There are drops of oil under the engine every morning, about the size of a coin, and the casing is wet underneath all around the drain plug. Otherwise it goes very well, I ride it to the hospital each day where I work on the children’s ward.',
  ],
  [
    'brake-noise',
    /brake|squeal|squeak|noise/,
    'You would laugh, the whole street knows when I am coming home. Every time I slow down for the corner by the bakery the front brake squeals like a pig, and the dog from number nine starts to howl along with it. It stops well enough. The discs were changed by the last owner, or so he told me when I paid him.',
  ],
  [
    'start-chatter',
    /click|rapid|fast|rattl|chatter/,
    'After three weeks in Portugal we came home and I wanted to go and get milk, pressed the starter, and there was this rapid clicking, very fast, like a woodpecker under the seat, and the dash lights flickered along with it. I let go and tried again with the same result. In the end I walked to the shop in the rain with an umbrella.',
  ],
  [
    'stalls-at-idle',
    /idle|stall|dies|light/,
    'Not sure how to put this. When I ride it is lovely, but every time I come to a stop at the traffic lights the engine dies at idle and I have to start it again with everyone hooting behind me. It does it warm and cold. My late father always rode this scooter and I would like to keep it going for his sake.',
  ],
];

describe('the words marked in a story', () => {
  test.each(stories)('%s', (symptomId, underlined, text) => {
    const [match] = finder.find(text, { limit: 3 }).matches;
    expect(match?.symptomId).toBe(symptomId);
    const words = match?.words ?? [];
    expect(words.length).toBeGreaterThanOrEqual(1);
    expect(words.length).toBeLessThanOrEqual(5);
    for (const word of words) {
      expect(text).toContain(word);
      expect(word.split(/\s+/).length, word).toBeLessThanOrEqual(8);
    }
    expect(words.join(' | ')).toMatch(underlined);
    // A few of the seventy words, not the story again.
    expect(words.join(' ').split(/\s+/).length).toBeLessThanOrEqual(20);
  });
});
