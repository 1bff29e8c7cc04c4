# The long section through the tank's axis, drawn as the section across it.
load folder.'/section.gp'
