import type { Random } from "./random.ts";

/** Invented people. Names are paired by chance, mail addresses end in .example and phone numbers are 555-01xx. */
const FIRST = [
  "Abena",
  "Alvaro",
  "Amaya",
  "Anselm",
  "Astrid",
  "Bao",
  "Beatrix",
  "Boaz",
  "Calliope",
  "Cyprian",
  "Dalia",
  "Desmond",
  "Eamon",
  "Edda",
  "Emeka",
  "Esperanza",
  "Farid",
  "Fenna",
  "Gideon",
  "Greta",
  "Hana",
  "Hollis",
  "Ignatius",
  "Ilse",
  "Imani",
  "Isidro",
  "Jolanta",
  "Jorunn",
  "Kasimir",
  "Keiko",
  "Lazaro",
  "Leocadia",
  "Lorcan",
  "Mahalia",
  "Marisol",
  "Mateusz",
  "Meera",
  "Minh",
  "Nadia",
  "Nestor",
  "Noor",
  "Odalys",
  "Olumide",
  "Orla",
  "Parveen",
  "Quentin",
  "Rafaela",
  "Ravi",
  "Rosalind",
  "Saoirse",
  "Selwyn",
  "Shira",
  "Sunniva",
  "Tariq",
  "Thandeka",
  "Ulises",
  "Verna",
  "Wendell",
  "Xiomara",
  "Yusuf",
  "Zenobia",
] as const;

const LAST = [
  "Achterberg",
  "Adeyinka",
  "Ambrosini",
  "Ashdown",
  "Balakrishna",
  "Barleycorn",
  "Bellwether",
  "Birdsong",
  "Castellane",
  "Chukwuma",
  "Coldwater",
  "Crabapple",
  "Dahlgreen",
  "Delacroix-Webb",
  "Dragonetti",
  "Eastlake",
  "Eskildsen",
  "Fairweather",
  "Featherstone",
  "Fonseka",
  "Gallowglass",
  "Garrowby",
  "Greenhalgh",
  "Halloran-Diaz",
  "Hargitay-Moss",
  "Hollander",
  "Ibarrola",
  "Inglenook",
  "Jandali",
  "Jurgensmeier",
  "Kettlewell",
  "Kirabo",
  "Kowalczyn",
  "Lachance",
  "Lindenau",
  "Longacre",
  "Madrigal",
  "Marchetti",
  "Merriweather",
  "Mwangaza",
  "Nakashiro",
  "Nightingale",
  "Oduyale",
  "Oakenfold",
  "Pemberwick",
  "Pendergrast",
  "Quackenbos",
  "Quillfeather",
  "Rosenthaler",
  "Runningbrook",
  "Saltmarsh",
  "Sarkisova",
  "Tamarack",
  "Thistlewood",
  "Tran-Oliveira",
  "Umberland",
  "Vandersloot",
  "Vasquez-Lund",
  "Wainscott",
  "Yellowlees",
  "Zambrowski",
] as const;

const MAIL_HOSTS = [
  "marshgrass.example",
  "lanternpost.example",
  "tideline.example",
  "fennelmail.example",
] as const;

export interface Contact {
  name: string;
  phone: string | null;
  email: string | null;
}

/** The same number as different people write it. */
export const PHONE_FORMS: readonly ((area: string, last: string) => string)[] = [
  (area, last) => `${area}-555-01${last}`,
  (area, last) => `(${area}) 555-01${last}`,
  (area, last) => `+1 ${area} 555-01${last}`,
];

const plain = (name: string): string =>
  name
    .normalize("NFKD")
    .replace(/[^A-Za-z]/g, "")
    .toLowerCase();

/** "ines.calloway@tideline.example" */
function mailOf(name: string, host: string): string {
  const [first = "", ...rest] = name.split(" ");
  return `${plain(first)}.${plain(rest.join(""))}@${host}`;
}

/**
 * People nobody has met yet, each with a phone number and a mail address of his own; a few leave only one of the two.
 * `rounds` says which pairings of names to use: companies with different rounds never share a name.
 */
export function crowd(
  random: Random,
  areas: readonly string[],
  rounds: readonly number[],
): (name?: string) => Contact {
  const names = random.shuffle(
    FIRST.flatMap((first, i) => rounds.map((k) => `${first} ${LAST[(i * 7 + k * 17 + 3) % LAST.length]}`)),
  );
  const numbers = random.shuffle(
    areas.flatMap((area) =>
      Array.from({ length: 100 }, (_, i) => [area, String(i).padStart(2, "0")] as const),
    ),
  );
  return (given) => {
    const name = given ?? names.pop();
    const number = numbers.pop();
    if (!name || !number) throw new Error("The demo has run out of people or phone numbers; add some.");
    const reach = given ? 0 : random.next();
    return {
      name,
      phone: reach > 0.94 ? null : random.pick(PHONE_FORMS)(...number),
      email: reach > 0.8 && reach <= 0.94 ? null : mailOf(name, random.pick(MAIL_HOSTS)),
    };
  };
}
