package build

// BoundHistory sets how far back undo goes.
func BoundHistory(f *Folder, edits, bytes int) { f.mostEdits, f.mostHistory = edits, bytes }

// Seal is the first line of a log, with its sum.
func Seal(body string) string {
	line, _ := seal("", []byte(body))
	return string(line)
}

// ChangeText makes one change of a text of build.yaml.
func ChangeText(text string, c Change) (string, error) { return change(BuildFile, text, c) }

// Patterns of the schema that stand for what unit.ParseDim reads.
const (
	ShopPattern = shopPattern
	RefPattern  = refPattern
	AnyPattern  = anyPattern
)
