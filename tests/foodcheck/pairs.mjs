// Which of our rows is which food of the Indian table: class, our ndb, theirs, how close.
// Paired by plant and part before any value was compared; none is left out for disagreeing.
// "same": one species and part. "near": another species of the genus, or another part or ripeness.
// Several codes are varieties of one food: their nutrients are averaged, then turned into C and N.
// Left unpaired although the names agree: gooseberry (theirs is Emblica), garden cress and
// watercress, baby corn and sweetcorn, orange pulp and our orange with peel.
export const PAIRS = `
leafy      11086 C009                          same  beet greens
leafy      11098 C012                          same  Brussels sprouts
leafy      11119 C013                          same  Chinese cabbage
leafy      11161 C014                          same  collards
leafy      11109 C015                          same  cabbage
leafy      11112 C016                          same  red cabbage
leafy      11250 C025                          same  lettuce
leafy      11270 C026                          same  mustard leaves
leafy      11116 C027                          same  pak choi
leafy      11297 C028                          same  parsley
leafy      11457 C033                          same  spinach
leafy      11244 C008                          same  fat hen (bathua)
leafy      11165 G009                          same  coriander leaves
leafy      02065 G016                          same  mint
leafy      11616 C032                          near  dock
vegetable  11024 D004,D005,D006                same  bitter gourd
vegetable  11218 D007,D008,D009                same  bottle gourd
vegetable  11220 D068,D069                     same  luffa gourd
vegetable  11209 D031                          same  aubergine
vegetable  11333 D033                          same  green pepper
vegetable  11821 D034                          same  red pepper
vegetable  11670 G008                          same  green chilli
vegetable  11135 D036                          same  cauliflower
vegetable  11143 D037                          same  celery
vegetable  11149 D038                          same  chayote
vegetable  11205 D043,D044                     same  cucumber
vegetable  11052 D049,D050                     same  French beans
vegetable  11241 D053                          same  kohlrabi
vegetable  11278 D056                          same  okra
vegetable  11422 D065,D066                     same  pumpkin
vegetable  11527 D074                          same  green tomato
vegetable  11529 D075,D076                     same  ripe tomato
vegetable  11477 D077                          same  courgette
vegetable  11282 G017,G018                     same  onion
vegetable  11215 G011,G012,G013                same  garlic
vegetable  11291 D058                          near  spring onion (their onion stalk)
root       11080 F001                          same  beetroot
root       11124 F002,F003                     same  carrot
root       11518 F004                          same  taro
root       11254 F005                          same  lotus root
root       11352 F006,F007,F008                same  potato
root       11429 F011                          same  radish, round red
root       11430 F010                          same  mooli
root       11507 F013,F014                     same  sweet potato
root       11134 F015                          same  cassava
root       11588 F016                          same  water chestnut
root       11216 G014                          same  ginger
root       11601 F018,F019                     near  yam
fruit      09003 E001,E002,E003,E004           same  apple
fruit      09037 E007                          same  avocado
fruit      09040 E009,E010,E011,E012           same  banana
fruit      09060 E062                          same  star fruit
fruit      09089 E020                          same  fig
fruit      09132 E022,E023,E024,E025,E026,E027 same  grapes
fruit      09139 E028,E029                     same  guava
fruit      09144 E030                          same  jackfruit, ripe
fruit      09176 E036,E037,E038,E039,E040,E041,E042 same mango
fruit      09181 E045,E046                     same  musk melon
fruit      09226 E049                          same  papaya
fruit      09236 E050                          same  peach
fruit      09252 E051                          same  pear
fruit      09286 E055                          same  pomegranate
fruit      09316 E063                          same  strawberry
fruit      09062 E016                          near  custard apple
fruit      09084 E015                          near  currants (theirs black, ours red)
fruit      09277 D063                          near  plantain (theirs green)
`
  .trim()
  .split("\n")
  .map((line) => {
    const [kind, ndb, codes, match, ...name] = line.split(/\s+/);
    return { kind, ndb, codes: codes.split(","), match, name: name.join(" ") };
  });
