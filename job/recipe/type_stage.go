package recipe

// Stage is what the memo must know of a stage that makes a T: one is declared
// for each stage, and its Version is raised whenever the same inputs come to
// mean another result.
type Stage[T any] struct {
	Name    string      // folder under stage/
	Version int         // from 1
	Codec   Codec[T]    // how a T goes to disk; nil: it stays in memory only
	Size    func(T) int // bytes a T holds; nil: its own Bytes() int, else counted
}

// Key is the key of what the stage makes from these inputs, as [Of] has it.
func (s Stage[T]) Key(inputs ...any) Key { return Of(s.Name, s.Version, inputs...) }
