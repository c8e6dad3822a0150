//! The trade's words, each defined once.

/// Each word and what is meant by it here (*common practice* where no standard is named).
pub const WORDS: &[(&str, &str)] = &[
    ("backstay", "A straight bar from an upper corner of the hoop behind the seats rearward and down to the shell."),
    (
        "balloon",
        "The ringed number of a part (as in ISO 6433): M a bar, J a joint, G a gusset, P a foot plate, S a stick, K an item of kit, Q a question, W a weigh-in. The same on screen, on paper and on the sticker on the tube. Never given out twice.",
    ),
    (
        "basic structure",
        "What all other bars brace: a main hoop with a front hoop, a main hoop with two half hoops, or two lateral hoops; always with two backstays.",
    ),
    ("bend radius", "The radius of a bend at the tube's centre line."),
    (
        "class edge",
        "The weight at which the rule book asks for another tube. A reading nearer to it than the scale's doubt is too close to call.",
    ),
    ("cope", "The shaped end of a tube that sits on another tube; also called a notch."),
    (
        "cross share",
        "The part of the weight on one diagonal. Two conventions are in use, so the wheels are named with it.",
    ),
    ("developed length", "A bent bar's length along its centre line, from node to node."),
    ("diagonal", "A straight bar across a hoop, the roof or the backstays, from corner to corner."),
    ("die", "The grooved former a tube is bent round; it fixes the bend radius."),
    ("door bar", "A bar along the car in the door's opening."),
    ("doubt", "How far a figure may be off: twice the standard deviation that follows from the scale's step."),
    (
        "earlier piece",
        "What a part was before it was cut again, moved or made otherwise. What was photographed or measured of it stays, and counts no more.",
    ),
    ("faces down", "The share of a joint's seam that looks at the floor, and so is welded overhead."),
    ("foot plate", "The plate under a bar's foot that spreads its load on the shell."),
    ("front hoop", "One piece up one windscreen pillar, along the screen's upper edge and down the other pillar."),
    (
        "gusset",
        "A piece in the angle between two bars: bent sheet saddled over both tubes, a flat plate, or a short tube.",
    ),
    ("harness bar", "The bar across the car behind the seats that carries the shoulder straps."),
    (
        "heat input",
        "What the arc put into each length of a seam: volts times amperes over travel speed, times the share that reaches the work (EN 1011-1).",
    ),
    ("heat number", "The steel maker's number of the melt a tube came from. An offcut keeps it."),
    ("hold point", "Where work stops until somebody named says yes: here, before anything is fully welded."),
    ("joint", "Where bars meet: one carrier that runs on, and the bars whose ends land on it."),
    (
        "drawn, recorded, measured, seen",
        "What a verdict rests on: the model alone; a paper, a stick, a label or what somebody entered of the part; a figure read off the car with a tool; a photograph.",
    ),
    ("kerf", "What the saw turns into dust."),
    ("lateral half hoop", "From the main hoop along the roof's edge and down the windscreen pillar to the floor."),
    (
        "lateral hoop",
        "One piece along a side of the car: up behind the front seats, along the roof's edge, down the windscreen pillar.",
    ),
    ("main hoop", "One piece across the car just behind the front seats."),
    ("mill certificate", "The steel maker's paper with a heat's own test results (EN 10204)."),
    ("offcut", "What is left of a stick after cutting; kept with its marks, or scrap."),
    ("packet", "The PDF of a round: everything the scrutineer decides from."),
    (
        "practice coupon",
        "A weld on spare tube in the same position, cut through and looked at before the joint itself is welded.",
    ),
    (
        "rear transverse bar",
        "The bar across the car that joins two lateral hoops at their upper bends behind the seats.",
    ),
    (
        "receipt",
        "The shop's word that a photograph is kept: its hash, the shop's time, the number of the log's entry. Only then may the phone forget its copy.",
    ),
    ("roof bar", "The bar along the roof's edge from the main hoop to the front hoop; a longitudinal member."),
    ("round", "One sending to the scrutineer. Once issued, no byte of it changes."),
    ("scrutineer", "The governing body's own inspector."),
    ("seam", "The line along which a bar's end meets its carrier; its length is measured on the outer wall."),
    ("shot", "A photograph that the book or the model asks for."),
    ("sill bar", "A bar along the car beside the sill."),
    ("springback", "How much a bend opens again when the die lets go."),
    ("stick", "A length of tube as delivered, with its size, grade and heat number."),
    ("stick-out", "From the contact tip, or the cup, to the work."),
    ("tack", "A short weld that only holds parts in place."),
    ("walk", "The shot list one after the other, in the order of walking round the car with a phone."),
    ("weigh-in", "Weighing the car under the book's conditions; the class and the tube sizes follow from it."),
    ("windscreen header", "The bar across the car along the screen's upper edge."),
];
