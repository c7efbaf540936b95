// Package exchanger rates the heat exchangers of a cooling installation: how
// much heat a core passes, what air pressure it costs, and what a water spray
// on its face adds.
//
// The chain of one rating, in order:
//
//  1. a [Conductance] per side gives hA [W/K] at the flow and temperature;
//  2. an [Arrangement] turns NTU and capacity ratio into an effectiveness ε;
//  3. [Core.Heat] returns K = ε·Cmin [W/K], so that Q = K·(T_liquid − T_air)
//     between the two inlet temperatures;
//  4. a [Drop] and the acceleration of the heated air give
//     [Core.PressureDrop];
//  5. a [Spray] raises the heat through [Core.Wet].
//
// A side may come from a catalogue point ([Rating]), from fin geometry
// ([LouveredFin], [OffsetStrip]) or from a tube ([Tube]). A measured point is
// the better source: the published correlations carry ±20 % on heat and ±30 %
// on pressure drop.
//
// Every function is stateless and allocates nothing after construction. Heat
// storage of a core belongs to the loop that owns its liquid. Left out:
// fouling, radiation, maldistribution of either stream over the face,
// condensation and frost, ageing of a wet core, and heat conduction along the
// tubes.
//
// Units are SI, temperatures °C.
package exchanger
