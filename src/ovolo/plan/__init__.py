"""How to make it: reach, settings, roughing, order, rounding to the readout; out comes a `model.Plan`, swept.

Read in this order::

    job, move       what is asked for, and what a plan is made of
    view            the job as the planner looks at it: a frame with air above, bays seen from their mouths
    stations        where to set the slides, and which tool takes which stretch: the fewest settings
    sweep           the tool taken over the metal, exactly (`sweep`) and as a quick picture (`height_field`)
    toolpath        from settings to moves of one slide at a time
    report          what there is to say of a plan: facts, refusals, what the operator does ahead of a move
    swept_plan      the metal after every move and each chip, kept with the plan for all who ask
    planner         `make_plan`: all of it, in this order; `previews` without moves and sweep

What a tool touches, takes and leaves is asked of its edge (`shop.edges`), never of its kind.
"""
