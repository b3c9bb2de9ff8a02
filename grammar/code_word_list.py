"""The words that codes are drawn from: everyday words of four to seven letters, chosen by us.

Chosen so that a phone's autocorrect leaves them alone and one slip never makes one of another: every two differ by
three letters or more (Levenshtein), and none is near a word of the text language or of a carrier. Left out by hand:
alarms, colours, numbers, units, times, orders, harm, rude words, words of the boat and words that sound like another.
"""

_WORDS = """
    abacus academy acorn acrobat acrylic actress adagio advent adviser aerosol airline airmail airport alcove
    alfalfa algebra allegro almanac almond alpaca alumni amateur amnesty amulet anagram analyst android anemone
    animal anise anorak antenna anthem antique antlers antonym apex aplomb apology apple apricot archer archway
    arctic arena artisan artwork ashtray asphalt aspirin athlete audio aurora autocue autumn avenue aviator
    avocado awning axolotl azalea baby bagel bakery balance balcony ballboy balsam bamboo bandage banjo baobab
    barbell barcode bargain barista barley baroque basmati bassist bassoon bathmat beading beanie bedpost
    bedroom bedtime beehive beeswax begonia belfry bellhop bellows benefit bicycle bifocal bigfoot bigwig
    biplane birch birdie biscuit bison bistro blanket blazer blemish blender blimp blossom blubber bluejay blurb
    bobcat bobsled bolero bonanza bonobo bonsai boogie bookend booklet boomer bottle bouncy bouquet boyhood
    bracken brandy bravado breeze brioche brisket brocade bronco brother brownie buckets buckler buffalo buffet
    builder bulldog bulrush bungee bunnies bunting bureau burrito bursary buzzard byline byway cabana cabbage
    cabinet cactus cadenza calcium caldera caliper calypso camelia cameo camphor camping canapes canasta canteen
    cantina canyon capsule caramel caravan caribou carol carrots cartoon carwash cascade cashbox cashier casino
    casket cassava cassock castles catfish catmint catnip caviar cayenne cayman census centaur ceramic cereals
    chalice chamois charter chateau cheddar chevron chicory chiffon chisel choir chorus chowder chuckle chutney
    cicada cider cinema circus citadel citizen clamber claret clay climate clinic clipart cluster coaches
    cobbler cobra cobweb coconut coffee cognac coinbox college collier cologne column comedy compost comrade
    concord conifer console convent cooking copycat cordial corgi corner corsage cosmos costume couplet cousins
    cowbell cowboy cowhide cowslip coyote craft crampon crayons creche creek crevice crewcut crinkle crofter
    croquet crouton crowbar crown crusty cryptic crystal cuckoo cuisine culture cupcake cupola curd curlew
    cursor curtain curtsy custard custody cutlery cyclist cypress dahlia daisy damask damson dancers daybook
    daycare dazzle deacon decaf decent decoder decorum deer deltoid denim deputy design desktop detour dewdrop
    dialect diamond diaries diary dilemma dimity dimple dinette dinner diode diorama diploma diptych disco
    distaff dogfish dogwood dollar dolphin domain doorman dossier dragnet drapery dresser drum drummer dungeon
    dustpan duvet dynamo dynasty eagle earbud earlobe earmuff earplug earwig eastern ebony eclair economy
    edamame editor effigy eggcup egghead eggnog elbow elector elegy elixir embassy emblem emperor enamel enigma
    envoy epoch equator equinox errand escort essay etching ethics excerpt expo eyeball eyebrow eyelash eyelid
    fables fabric factor faculty fairies falafel family fanfare farmer fascia fashion faucet feather feature
    fedora fencing ferns fiction fiddle fielder figment finance finches finesse fishery fjord flannel flapper
    flask flatbed flavour fleece flint floral flux flyer flyleaf foliage fondant fondue foreman forest formula
    fortune fossil founder foxhole foxtrot freebie fresco friend fuchsia fudge fudging fulcrum funfair futon
    galaxy gallery gambit garden garland garlic garnish gazebo gazette gearbox gecko gelato genesis genome
    gerbil geyser gherkin ghost gibbon giblet giftbox giggles gimmick gingham ginkgo ginseng giraffe gizmo
    glacier glimpse glucose glyph gnat gnocchi goatee godson golfer gorse gosling gouda goulash gourmet grammar
    granary grandma granite grapes graphic gravy gremlin griffin grinder gristle grizzly grocer groove grotto
    guinea guitars gumball gumboot gumdrop gumtree guppies guppy gusto gymnast gypsum gyro haggis haiku haircut
    hairpin halcyon halibut halogen hammers hammock hamster handcar handful handle hardtop harmony harness
    harpist hashtag hatband hatbox hayfork hayloft hayseed headset healthy hedges heifer hemline henna herald
    heroism hessian hexagon hiccup hideout highway hillock hilltop hinge hippo hobbies hobnail hoedown horizon
    hosiery hotcake hotpot hubcap hula humbug humdrum hurling hurrah husky hutches hydra hygiene hyphen ibis
    icecap idiom igloo iguana imagery impala incense income index indoors infuser ingot inkblot inkjet inkling
    inkwell innings inquest insect invoice isotope jackdaw jalopy jargon jasmine javelin jawbone jazz jersey
    jetlag jewel jigsaws joker journal joyride jubilee juggler jukebox jumble jumper junior jurist kaftan
    karaoke kazoo kebabs kennel kestrel ketchup kettles keynote keypad kiln kilobit kimono kindred kingdom
    kinship kiosk kipper kitbag kitchen kittens knitter knocker kudos kumquat ladders ladybug lagoon lambda
    landau lanyard lapdog lapwing lasagna lasso laundry laurel lawyer layover leaflet learner lectern legacy
    legend leisure lemming lemons lemur lentils leopard lettuce lexicon liberty library lilypad limbo limeade
    limpet linseed lioness litmus lobby locust lodger logbook logging longbow loofah loom lorries lotion lottery
    lowland lozenge luggage lullaby lunar lupin luxury lychee lyric macaw machine maestro magical magnets magnum
    magpie mailbox mailman majesty mallard mallet mammal mammoth manatee mandala mantis maracas marble marsh
    martini marvel mascara mascot masonry mastiff matador matinee matrix maxim mayfly mayoral mazurka meander
    meerkat melon memento memory menorah menu merino mermaid meteor mezzo microbe midland midriff milady mileage
    mimic mimosa minaret minicab minnow miracle mirror mistral mixture module monarch monitor monkey monocle
    montage moonlit moorhen moped morocco mosaic motif mudpack muesli muffler mural museum muskrat mynah mystery
    nacho napkins narwhal nebula necktie nectar needle nephew netball neutron newsman nibble nickel nomad
    noodles nosebag nostril notary notched notepad nougat novella nuance nugget nunnery nutmeg nylons oasis
    oatmeal obelisk oblong oboe ocean ocelot octagon octave octopus odyssey oilskin okapi omega omnibus onions
    onyx opus orator orbit orca orchard orchids oregano origami oriole osmosis osprey ostrich ottoman outcrop
    outfit outlay outline outlook outpost oval ovation overlap owlet oxtail package paddock paella pageant
    pageboy pagoda painter paisley palmtop pancake panini panpipe pantry papaya paprika papyrus parade parasol
    parfait parking parquet parsnip partner pasta pasture pathway pawpaw payment paywall peacock peafowl peahen
    peanut pebbles pectin peering pelican pencil penguin pension peppers perfume perry persona pestle petunia
    pewter phantom phoenix phoneme phonics pianist piccolo pickles picnic pigeon pilaf pilgrim pillbox pinball
    pinhole pinto pioneer pippin piquant piranha pivot pixies placebo placid platter playpen plaza plumage
    plummet plunger plush plywood polecat polenta polka polygon pommel poncho popcorn popgun porcini portal
    portico possum postbox postman posy potluck poultry prairie praline prattle preface prelude premise pretzel
    pricing prince prism profile pronoun proverb puffin pulpit pumpkin punnet putty pyramid python quail quantum
    quarry quasar quiche quilted quiver quorum quote rabbits raccoon radiant radish ragdoll ragout ragtime
    ragweed railcar rainbow rainhat raisins rambler ramekin ramp ranch ranger rapport ratchet ravioli recipe
    redcoat redwing redwood referee regalia reggae reptile reunion revival rhino rhombus rhubarb rhyme rhyming
    rhythm ricotta ringlet roadway robin rocket rodeo rooftop rooster rosebud rosehip rosette rotunda roundup
    royalty rubbers rugby ruler rummage rumpus rustic saddles safari sago salad sandbox sandpit sangria sardine
    sarong sashimi satire satsuma sauna sausage savanna sawdust sawmill scallop scanner scarab scholar school
    scissor scone scooter screech script scuttle seafood seagull seaside seesaw seminar senator sequel sequoia
    series sesame shadow shaker shampoo shanty shawl shelf sherbet sherpa shindig shoebox
    shovels shrimp shrub sidebar siesta silicon sister sitcom skillet skydive skylark slalom sledge sleuth
    slogan snack sniffle snippet snorkel snowman snuggle soapbox soccer society soloist sonata soprano sorghum
    soup soybean spangle spaniel sparrow spatula speckle sphere sphinx spinach spinney spoiler sponsor spoon
    sprayer spritz spruce squares squash squeak squid stadium stamen stanza stapler stardom steeple stereo
    steward sticker stilts stirrup stopgap strudel stubble stucco stylist subplot suburb subway sultana sumac
    summit sunbeam sundial sunhat sunlamp sunrise sunroof sunspot surfer sushi swan sweater swindle swivel
    syntax tabard tadpole taffy taiga tailor tambour tandem tangent tapioca tapir tarmac tartlet tassels tavern
    teabag teacake teacup teapot teddy tempera tenant tenor tenpin termite terrain terrier theorem thermos
    thesis thicket thimble thrush tigers tikka timber timpani tinfoil tinsel tissue titan titbit toddler toehold
    toggle tomato tombola tonic toolbox toolkit topaz topcoat topiary topknot topping topsoil totem toucan
    toyshop traffic trainer trapeze treacle treetop trellis tribute triceps trident trilby tripod trolley trophy
    trouser trowel truffle trumpet tulip tundra tunnels turbot turnips turnkey tutu tuxedo tweak tweezer twiglet
    twirl ukulele umpire uncle uniform upstage urchin usher utensil utopian vanilla vase vegan vehicle velvet
    veneer venison veranda verdict veteran vibrato victory viking vinegar vinyl violin visage vitamin vixen
    vortex voucher wafer waffle wagtail walkway walrus waltz warthog wasabi washtub wavelet waxwork weasels
    webpage website wedlock weevil wetland whisker whiting whittle whopper widget wigwam wildcat willow windows
    wingnut wisdom wizards wolf wombats woodcut workout worktop wreath writer yashmak yeast yeoman yeti
    yoga youth yucca zebras zenith zephyr zigzag zinc zinnia zither zodiac
"""

ALL_CODE_WORDS: tuple[str, ...] = tuple(_WORDS.split())
"""In the order of the alphabet; which of them may be drawn in one installation is for `drawable` to say."""
