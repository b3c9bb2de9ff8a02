"""The words that codes are drawn from: everyday words of four to seven letters, chosen by us.

Chosen so that a phone's autocorrect leaves them alone and one slip never makes one of another: every two differ by
three letters or more (Levenshtein), and none is near a word of the text language or of a carrier. Left out by hand:
alarms, colours, numbers, units, times, orders, harm, rude words, words of the boat, words that sound like another,
words with two common spellings, and words that few meet or that are hard to spell, because whoever confirms may read
English as a second language, by night. (A quarter of a first list was replaced so, beginning with what a table of word
frequencies called rarest.)
"""

_WORDS = """
    abacus ability absorb academy achieve acorn acrobat acrylic actress admire advance advent adviser aerosol agency
    airline airport album alcove algebra almanac almond alpaca alpine alumni amateur amnesty amount amulet anagram
    analyst anatomy ancient android animal antenna anthem antique antlers apex apology applaud apple apricot aquatic
    archer archway arctic arena armpit article artist artwork ashtray asphalt aspirin athlete atom attempt attract
    audio auntie aurora autumn avenue aviator avocado awaken awesome awning azalea baby bagel bakery balance balcony
    balloon balsam bamboo banana bandage banjo barbell barcode bargain barista barley bassist bathmat bathtub
    beading beanie bedpost bedroom bedtime beehive beeswax bellows belt benefit bicycle bigfoot bigger biplane birch
    birdie biscuit bison bistro blanket blazer blemish blender blimp blossom blouse blubber bluejay blurb bobcat
    bobsled bonnet bonsai boogie bookend booklet boomer bottle bouncy bouquet bowl boxing boyhood brandy bravado
    breaker breath breeze brewery bride brisket brocade bronco brother brownie brush buckets buffalo buffet builder
    bulldog bungee bunnies bunting bureau burrito butter buzzard cabbage cabinet cactus calcium caldera caliper
    calorie calypso cameo camphor camping canopy canteen cantina canvas canyon capital capsule caramel caravan
    careful caribou carol carrots cartoon carwash cascade cashbox cashier casino casket castles caterer catfish
    cayenne ceiling celery centaur ceramic cereals chalice charm charter cheaper cheddar cheese cheetah chemist
    chevron chicken chiffon chili chimney chisel choir chorus chuckle church cider cinema circus citadel citizen
    claret clay cleanup clever cliff climate clinic clipart closest clothes cloud cluster coaches cobbler cobra
    cobweb cockpit coconut coffee coinbox college cologne column comedy commute company compost comrade concord
    consist console contact convent cooking copycat cordial corgi corner cosmos costume cottage couple cousins
    cowbell cowboy cowhide coyote cracker cradle craft crayons creamy creek crevice crewcut croquet crouch crouton
    crowbar crown crusty cryptic crystal cuckoo cuisine culture cupcake curd cursor curtain custody cyclist cypress
    dahlia daisy dancers darts daycare dazzle decaf decent decoder deepest deer deluxe denim dentist depict deputy
    design desktop detail detour dewdrop dialect dialog diamond diaries diary digital dignity dilemma dimple dinner
    diode diploma disco dollar dolphin domain donut doorman dossier dragon drapery drawing dresser drum drummer duck
    dungeon durable dustpan duvet dynamo dynasty eagle earbud earlobe earmuff earplug easiest eastern ebony eclipse
    economy edible editor educate eggcup egghead eggs elbow elector elegant elevate elite embassy emblem emperor
    empower enamel endure engage enigma enrich envoy episode epoch equator equinox eraser errand escort essay
    etching ethics evolve examine excerpt exotic explore expo eyeball eyebrow eyelash eyelid fables fabric factor
    faculty fairies falafel family fanfare fantasy farmer fascia fashion faucet feather feature fedora fencing ferns
    festive fiction fiddle fielder finance finches fishery fishing flannel flask flatbed flavour fleece flint floral
    fluffy flux flyer focus foliage forearm foreman forest forever formula fortune fossil founder foxtrot fragile
    freebie freedom freeway fresco friend frog fudge funfair galaxy gallery gallop garden garland garlic garnish
    gazette gearbox gecko gelato genesis genius genome genuine gerbil ghost giant giftbox gifted giggles gimmick
    giraffe gizmo glacier glasses glimpse globe glossy glucose golfer gorilla gosling gothic gourmet gradual grammar
    grandma granite grapes graphic gravy gremlin grief griffin grinder grizzly grocer groove ground growth guess
    guinea guitars gull gumball gumboot gumdrop gumtree gusto gymnast habitat haircut hairdo hairpin halibut halogen
    hammers hammock hamster handbag handful handle happen hardtop harmony harness hashtag hatbox hayloft headset
    healthy heaven hedges heifer height helpful henna herald herb heroism hexagon hiccup hidden hideout highest
    highway hilltop hinge hippo hobbies holiday hook hopeful horizon horse hotcake hotel hottest hubcap humbug
    hurling hurrah husky hybrid hydra hygiene ibis icecap idiom igloo iguana imagery imagine impala implant incense
    income index indoors inkjet inkling inkwell innings insect insider insight inspire instant invoice ironing
    jaguar jargon jasmine javelin jawbone jazz jelly jersey jetlag jewel jigsaws joker journal joyful joyride
    jubilee juggler juice jukebox jumble jumper junior karaoke kebabs keeper kennel ketchup kettles keynote keypad
    keyword kickoff kiln kimono kinetic kingdom kiosk kitbag kitchen kittens knitter koala kudos ladders ladybug
    lagoon lanyard lapdog larva lasso latest laugh laundry laurel lawful lawn lawyer layout layover leaflet learner
    legacy legend leisure lemons lengthy lentils leopard lettuce lexicon liberty library lilypad limbo limeade
    lioness litmus lobby lodger logbook logging longbow longest lorries lotion lottery lowland lozenge luggage
    lullaby lunar luxury machine maestro magical magnets magnum magpie mailbox mailman majesty mallard mallet mammal
    mammoth manatee mandala mantis marble marsh martini marvel mascara mascot masonry massive matador matinee matrix
    mayfly mayor meander medium meerkat melon memory menu mercury merino mermaid meteor microbe midland midterm
    midtown midway mighty milady mileage mimic mindset mineral minibus minicab minnow miracle mirror mission mixture
    modern module monarch monitor monkey moonlit moped morocco mosaic movie muffin muffler mural museum mustard
    mystery nacho napkins natural nearby nearest necktie nectar needle nephew netball neutron newborn newsman nibble
    nicest nickel noodles nostril notable notched notepad nougat novella nugget nursery nutmeg nylons oasis oatmeal
    object oblong observe ocean octagon octave octopus odyssey office oldest omega onions opinion optimal orbit orca
    orchard orchids oregano ostrich ottoman outcome outcrop outfit outlay outline outlook outpost outward oval
    overlap package paddock pageant pageboy pagoda painter pair paisley pancake panini pantry papaya paprika parade
    parasol parking parquet parsnip partner pasta pasture pathway payment paywall peach peacock peanut peasant
    pebbles pedal peering pelican pencil penguin pension people peppers perform perfume perry persona phantom
    phoenix pianist piccolo pickles picnic pigeon piglet pilgrim pillbox pinball pinhole pinto pioneer piranha pivot
    pixies placid plastic platter playpen plaza plenty pliers plugin plummet plunger plywood poet polecat polka
    polygon poncho popcorn poppy popular portal possum postbox postman potluck poultry powder prairie preface prefer
    prelude premise pretzel pricing prince prism prodigy product profile program promote pronoun protein proverb
    publish pudding pumpkin puppet purpose putty pyjamas pyramid python quail quality quantum quarry queen quilted
    quiver quote rabbits raccoon radiant radish ragdoll ragtime railcar rainbow raisins rambler ramp ranch ranger
    ravioli realist reason rebuild recipe reclaim recruit redwood referee refresh reggae regular rejoice remake
    rematch rental replica reptile reunion review revival rhino rhyme rhythm ribbon ricotta road roadway robin
    robotic rocket rodeo rooftop rooster rosebud rosette roundup royalty rubbers rugby ruler rummage rustic saddles
    safari salad salute sandbox sandpit sangria sardine sashimi satire satisfy sauna sausage savanna sawdust sawmill
    scanner scarf scenic scholar school science scissor scooter screech script scuttle seafood seagull seaside
    seaweed secret seesaw seminar senator sequel series shadow shaker shampoo shanty shawl shelf sherbet sherpa
    shirt shoebox shopper shovels shrimp shrub sidebar siesta silicon singing sister sitcom skating sketch skillet
    skydive skylark slalom sledge sleep sleuth slogan slower smile snack sniffle snippet snorkel snowman snuggle
    soapbox soccer society soften soloist soluble sonata soprano soup soybean spade spaniel sparkle sparrow spatula
    speedy sphere spinach spiral spoiler sponsor spoon sprayer spring sprout spruce squares squash squeak squeeze
    squid stadium stairs stamina stapler starch stardom station steeple stellar stereo steward sticker stirrup stone
    stopgap strange straw street stroll strudel stubble student sturdy stylist subplot suburb subway summary summit
    sunbeam sundial sunhat sunlamp sunrise sunroof sunspot surface surfer sushi swan sweater sweetie swimmer swindle
    swivel syntax tabloid tadpole tailor talent tandem tarmac tartlet tavern taxi teabag teacake teacup teapot
    techno teddy tenant tenpin termite terrain terrier theorem therapy thermos thesis thimble thought thread thrill
    throne tigers tighter timber tinfoil tinsel tissue titan toddler toehold toggle tomato tonic toolbox toolkit
    topaz topiary topping toucan tourist toyshop traffic trainer trapeze travel treetop tribute triceps trick
    trident trinity tripod trivia trophy trouser truffle trumpet tulip tunnels turnips turnkey tutor tuxedo tweak
    tweezer twirl typical ukulele umpire uncle uncover unfold uniform upbeat uplift upright upstage uptown urchin
    useful usher utensil vanilla variety vase vegan vehicle veil velvet venison veranda verdict veteran vibrant
    victory viewer viking vinegar vinyl violin visage visual vitamin volley vortex voucher wafer waffle wagtail
    walkway walrus waltz wasabi waxwork weasels webpage website wedlock welcome wetland whale wheel whisker whistle
    whiting widget wildcat willow windows winery wingnut wisdom wizards wolf wombats workout worktop wrinkle writer
    yeast yeti yoga yogurt youth zebras zigzag zinc zipper zodiac
"""

ALL_CODE_WORDS: tuple[str, ...] = tuple(_WORDS.split())
"""In the order of the alphabet; which of them may be drawn in one installation is for `drawable` to say."""
